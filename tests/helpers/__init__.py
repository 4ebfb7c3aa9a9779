"""What tests share: jobs from few words, PDFs made and measured, sheets put back together."""
