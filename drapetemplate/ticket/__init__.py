"""The pages to read: job ticket, cutting pages, assembly pages, and their pictures."""

from drapetemplate.ticket.job_ticket import ticket, ticket_paper

__all__ = ["ticket", "ticket_paper"]
