/**
 * Elements without a framework. Text always enters as text nodes: nothing here reads HTML.
 */

/**
 * Makes an element.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, unknown>} [props] attributes; `class`, `text`, `on` ({event: handler}), `data` ({name: value})
 *   are understood; `true` gives an empty attribute, `false`, null and undefined none
 * @param {...(Node | string | null | undefined)} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function el(tag, props = {}, ...children) {
  const node = document.createElement(tag);
  setProps(node, props);
  put(node, ...children);
  return node;
}

/**
 * Sets attributes of an element made by `el` or `sv`; what has not changed is not touched.
 * @param {Element} node
 * @param {Record<string, unknown>} props
 */
export function setProps(node, props) {
  for (const [name, value] of Object.entries(props)) {
    if (name === 'text') {
      setText(node, String(value ?? ''));
    } else if (name === 'on') {
      for (const [event, handler] of Object.entries(/** @type {Record<string, EventListener>} */ (value))) {
        node.addEventListener(event, handler);
      }
    } else if (name === 'data') {
      for (const [key, entry] of Object.entries(/** @type {Record<string, unknown>} */ (value))) {
        setAttribute(node, `data-${key}`, entry);
      }
    } else {
      setAttribute(node, name, value);
    }
  }
}

/**
 * Sets or takes away one attribute, only if that changes it.
 * @param {Element} node
 * @param {string} name
 * @param {unknown} value
 */
export function setAttribute(node, name, value) {
  if (value === false || value === null || value === undefined) {
    if (node.hasAttribute(name)) node.removeAttribute(name);
    return;
  }
  const text = value === true ? '' : String(value);
  if (node.getAttribute(name) !== text) node.setAttribute(name, text);
}

/**
 * Sets the text of a node, only if that changes it. Keeps one text node, so a selection in it survives.
 * @param {Node} node
 * @param {string} text
 */
export function setText(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/**
 * Appends children; null and undefined are skipped.
 * @param {Node} node
 * @param {...(Node | string | null | undefined)} children
 */
export function put(node, ...children) {
  for (const child of children) {
    if (child !== null && child !== undefined) {
      node.appendChild(typeof child === 'string' ? document.createTextNode(child) : child);
    }
  }
}

/**
 * Replaces all children.
 * @param {Node} node
 * @param {...(Node | string | null | undefined)} children
 */
export function fill(node, ...children) {
  node.textContent = '';
  put(node, ...children);
}

/**
 * Shows or hides by the `hidden` attribute.
 * @param {Element} node
 * @param {boolean} shown
 */
export function show(node, shown) {
  setAttribute(node, 'hidden', !shown);
}

let remKnown = 0;

/**
 * Px of one rem: text and targets are in rem, drawings are laid out in px. Known until `forgetRem`, since asking makes the
 * browser work out all styles.
 * @returns {number}
 */
export function remPx() {
  remKnown ||= Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
  return remKnown;
}

/** The size was changed, or the window. */
export function forgetRem() {
  remKnown = 0;
}

/**
 * A list of nodes kept as long as a list of data: made once, later only updated, surplus ones taken out.
 * @template {Element} N
 * @param {Node} parent
 * @param {N[]} nodes the list that is kept; start with []
 * @param {number} length
 * @param {(index: number) => N} make
 */
export function keepLength(parent, nodes, length, make) {
  while (nodes.length < length) {
    const node = make(nodes.length);
    nodes.push(node);
    parent.appendChild(node);
  }
  while (nodes.length > length) {
    const node = nodes.pop();
    if (node) node.remove();
  }
}
