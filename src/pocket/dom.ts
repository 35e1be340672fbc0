/** Elements in one line each. Text is always text, never markup. */
type Child = Node | string | null | false;
type Attributes = Readonly<Record<string, string | number | boolean | ((event: Event) => void)>>;

export const el = (tag: string, attributes: Attributes = {}, children: readonly Child[] = []): HTMLElement =>
  fill(document.createElement(tag), attributes, children);

export const drawn = (tag: string, attributes: Attributes = {}, children: readonly Child[] = []): SVGElement =>
  fill(document.createElementNS('http://www.w3.org/2000/svg', tag), attributes, children);

function fill<Made extends Element>(made: Made, attributes: Attributes, children: readonly Child[]): Made {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === 'function') made.addEventListener(name, value);
    else if (value !== false) made.setAttribute(name, value === true ? '' : String(value));
  }
  made.append(...children.filter((child) => child !== null && child !== false));
  return made;
}

export const button = (
  key: string,
  attributes: Attributes,
  children: readonly Child[],
  press: () => void,
): HTMLElement => el('button', { type: 'button', 'data-key': key, ...attributes, click: press }, children);
