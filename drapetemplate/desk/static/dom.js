// Small helpers to build the page. Text always goes in as text, never as markup.

/** Return a new element: `attributes` by name (true is present, false and null are not), `on` its
 * listeners by event, and its children, text among them. */
export function make(tag, { on = {}, ...attributes } = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) set(element, name, value);
  for (const [event, listener] of Object.entries(on)) element.addEventListener(event, listener);
  element.append(...children.filter((child) => child !== null && child !== undefined));
  return element;
}

/** Set an attribute; take it away where `value` is false, null or undefined. */
export function set(element, name, value) {
  if (value === false || value === null || value === undefined) element.removeAttribute(name);
  else if (element.getAttribute(name) !== String(value === true ? "" : value)) {
    element.setAttribute(name, value === true ? "" : value);
  }
}

/** Put `text` in, if it isn't there: what doesn't change isn't touched, and not read out again. */
export function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** Return the element with this id. */
export const byId = (id) => document.getElementById(id);

/** Make `nodes` the children of `parent`, in this order. What is there already stays in the page:
 * a field that has the focus keeps it, and its caret. */
export function arrange(parent, nodes) {
  const wanted = new Set(nodes);
  for (const child of [...parent.childNodes]) if (!wanted.has(child)) child.remove();
  let next = parent.firstChild;
  for (const node of nodes) {
    if (node === next) next = next.nextSibling;
    else parent.insertBefore(node, next);
  }
}

/** Return an SVG's text as an element. It is read as SVG, not as a page; its title becomes what a
 * screen reader says of it, as a title would also hang under the pointer. */
export function drawn(text) {
  const svg = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (svg.localName !== "svg") throw new Error("a picture that is no SVG");
  const title = svg.querySelector("title");
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", title?.textContent ?? "");
  title?.remove();
  return document.adoptNode(svg);
}
