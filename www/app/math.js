/**
 * An equation as the core writes it ("U = ṅ R_gas T̄_w/(p π R²)") set as MathML.
 *
 * What is read: names with a subscript behind _, powers behind ^ or as ² ³, brackets, and a quotient a/b written without
 * blanks, which is set as a fraction. Each part between blanks is an element of its own, so a long equation wraps; fractions
 * are not nested and exponents stay on one line, so that no digit falls under 14 px. Words stay words.
 */
import { el, put } from './dom.js';

const MATH_SPACE = 'http://www.w3.org/1998/Math/MathML';

/** Names that are functions, set upright. */
const MATH_FUNCTIONS = new Set(['exp', 'ln', 'log', 'log10', 'sqrt', 'max', 'min', 'tanh', 'erf', 'Var']);

/** Short words that are no symbols. */
const MATH_WORDS = new Set(['as', 'at', 'by', 'in', 'is', 'no', 'of', 'on', 'or', 'to']);

/**
 * @param {string} name
 * @param {...(Node | string)} children
 */
function mathNode(name, ...children) {
  const node = document.createElementNS(MATH_SPACE, name);
  put(node, ...children);
  return node;
}

/**
 * The parts of an equation, a line each: as MathML where it is one, as words where it says how a number is found.
 * @param {string} text
 * @returns {HTMLElement[]}
 */
export function equationLines(text) {
  return mathClauses(text).map((clause) => {
    if (!/[=<>≤≥∫Σ]/.test(clause)) return el('p', { class: 'equation words', text: clause });
    const line = el('p', { class: 'equation' });
    const math = el('span', { role: 'math', 'aria-label': clause });
    mathParts(clause).forEach((part, index, parts) => {
      const article = part === 'a' && /^[a-z]{3,}/.test(parts[index + 1] ?? '');
      put(math, article ? part : mathPart(part), ' ');
    });
    put(line, math);
    return line;
  });
}

/** Clauses are parted by "; " outside of brackets. @param {string} text */
function mathClauses(text) {
  /** @type {string[]} */
  const clauses = [''];
  let depth = 0;
  for (let place = 0; place < text.length; place += 1) {
    if ('([{'.includes(text[place])) depth += 1;
    if (')]}'.includes(text[place])) depth -= 1;
    if (depth === 0 && text.startsWith('; ', place)) {
      clauses.push('');
      place += 1;
    } else {
      clauses[clauses.length - 1] += text[place];
    }
  }
  return clauses.filter((clause) => clause.trim() !== '');
}

/** Parts are parted by blanks outside of brackets. @param {string} text */
function mathParts(text) {
  /** @type {string[]} */
  const parts = [''];
  let depth = 0;
  for (const sign of text) {
    if ('([{'.includes(sign)) depth += 1;
    if (')]}'.includes(sign)) depth -= 1;
    if (depth === 0 && sign === ' ') parts.push('');
    else parts[parts.length - 1] += sign;
  }
  return parts.filter((part) => part !== '');
}

/** @param {string} part without blanks outside of brackets */
function mathPart(part) {
  // A word, or "what leaves/ṅ": a quotient of words is no fraction of the last of them.
  const [plain] = part.replace(/[,.:]$/, '').split('/');
  if (mathIsWord(plain)) return document.createTextNode(part);
  const math = mathNode('math', ...mathItems(part, true));
  math.setAttribute('displaystyle', 'true');
  return math;
}

/** Whether letters are a word and not a symbol. @param {string} letters */
function mathIsWord(letters) {
  if (!/^[A-Za-z'-]{2,}$/.test(letters) || MATH_FUNCTIONS.has(letters)) return false;
  return MATH_WORDS.has(letters) || /^[a-z'-]{3,}$/.test(letters);
}

/**
 * The items of a part, quotients among them.
 * @param {string} text
 * @param {boolean} fractions whether a quotient is set as a fraction
 * @returns {Element[]}
 */
function mathItems(text, fractions) {
  const reader = { text, place: 0 };
  /** @type {Element[]} */
  const items = [];
  let before = -1;
  while (reader.place < text.length) {
    const sign = text[reader.place];
    if (sign === ' ') {
      reader.place += 1;
      before = -1;
      items.push(mathBlank());
    } else if (sign === '/' && fractions && before >= 0 && reader.place + 1 < text.length && text[reader.place + 1] !== ' ') {
      reader.place += 1;
      const over = mathRow(items.splice(before).map(onOneLine));
      const under = mathRow(factorsUntilBreak(reader));
      items.push(mathNode('mfrac', withoutBrackets(over), withoutBrackets(under)));
      before = items.length - 1;
    } else {
      const start = items.length;
      items.push(...mathFactor(reader, fractions));
      before = /[=+−·×<>≤≥±|,]/.test(sign) ? -1 : start;
    }
  }
  return items;
}

/** Adjacent factors below a fraction's line: "2U", "(3π μ d*)". @param {{text: string, place: number}} reader */
function factorsUntilBreak(reader) {
  const items = mathFactor(reader, false);
  const goesOn = items.length === 1 && (items[0].localName === 'mn' || items[0].textContent === '∫');
  if (goesOn && /[^\s\d/+−=,)\]]/.test(reader.text[reader.place] ?? ' ')) items.push(...mathFactor(reader, false));
  return items;
}

/**
 * One factor with its subscript and power: a number, a name, a bracket, a function of a bracket, an operator.
 * @param {{text: string, place: number}} reader
 * @param {boolean} fractions
 * @returns {Element[]}
 */
function mathFactor(reader, fractions) {
  const rest = reader.text.slice(reader.place);
  const number = /^\d+(?:\.\d+)?/.exec(rest);
  const name = /^[\p{L}∂∞][\p{L}\p{M}∂]*\*?/u.exec(rest);
  /** @type {Element} */
  let item;
  if (number) {
    reader.place += number[0].length;
    item = mathNode('mn', number[0]);
  } else if (name) {
    reader.place += name[0].length;
    item = mathName(name[0]);
  } else if ('([{'.includes(rest[0])) {
    item = mathRow(bracketItems(reader, fractions));
  } else {
    reader.place += rest[0].length;
    return [scripted(reader, mathNode('mo', rest[0]))];
  }
  item = scripted(reader, item);
  // A name right before a bracket is a function of it: F(r), d(1/S).
  if (name && /^∂?ln$/.test(name[0]) && reader.text[reader.place] === ' ') {
    reader.place += 1;
    return [mathRow([item, mathBlank(), ...mathFactor(reader, false)])];
  }
  if (name && reader.text[reader.place] === '(') item = scripted(reader, mathRow([item, ...bracketItems(reader, fractions)]));
  return [item];
}

/** @param {string} name */
function mathName(name) {
  const node = mathNode('mi', name);
  if (MATH_FUNCTIONS.has(name)) node.setAttribute('mathvariant', 'normal');
  return node;
}

/** Subscript and power behind an item. @param {{text: string, place: number}} reader @param {Element} item */
function scripted(reader, item) {
  let result = item;
  const sub = /^_(?:\{([^}]*)\}|([\p{L}\p{M}\d∞*]+(?:,[\p{L}\p{M}\d]+)?))/u.exec(reader.text.slice(reader.place));
  if (sub) {
    reader.place += sub[0].length;
    result = mathNode('msub', result, mathNode('mtext', sub[1] ?? sub[2]));
  }
  const raised = /^[²³⁴]/.exec(reader.text.slice(reader.place));
  if (raised) {
    reader.place += 1;
    return mathNode('msup', result, mathNode('mn', String('²³⁴'.indexOf(raised[0]) + 2)));
  }
  if (reader.text[reader.place] !== '^') return result;
  reader.place += 1;
  const power = reader.text[reader.place] === '(' ? withoutBrackets(mathRow(bracketItems(reader, false))) : mathFactor(reader, false)[0];
  return mathNode('msup', result, power);
}

/** A bracket with what stands in it. @param {{text: string, place: number}} reader @param {boolean} fractions */
function bracketItems(reader, fractions) {
  const open = reader.place;
  let depth = 0;
  let close = open;
  for (; close < reader.text.length; close += 1) {
    if ('([{'.includes(reader.text[close])) depth += 1;
    if (')]}'.includes(reader.text[close])) depth -= 1;
    if (depth === 0) break;
  }
  reader.place = close + 1;
  const inner = mathItems(reader.text.slice(open + 1, close), fractions);
  return [mathNode('mo', reader.text[open]), ...inner, mathNode('mo', reader.text[close] ?? ')')];
}

/** A numerator's own fractions back on one line: below a line in a line the digits would be too small. @param {Element} node @returns {Element} */
function onOneLine(node) {
  if (node.localName === 'mfrac') {
    const [over, under] = [...node.children].map(onOneLine);
    return mathNode('mrow', bracketed(over), mathNode('mo', '/'), bracketed(under));
  }
  for (const child of [...node.children]) child.replaceWith(onOneLine(child));
  return node;
}

/** @param {Element} row */
const bracketed = (row) => (row.localName === 'mrow' && row.children.length > 1 && row.firstElementChild?.textContent !== '(' ? mathNode('mrow', mathNode('mo', '('), row, mathNode('mo', ')')) : row);

/** @param {Element[]} items */
const mathRow = (items) => (items.length === 1 ? items[0] : mathNode('mrow', ...items));

/** A row without its outer round brackets, which a fraction's line replaces. @param {Element} row */
function withoutBrackets(row) {
  const { firstElementChild: first, lastElementChild: last } = row;
  if (row.localName !== 'mrow' || first?.localName !== 'mo' || first.textContent !== '(' || last?.textContent !== ')') return row;
  first.remove();
  last.remove();
  return row;
}

function mathBlank() {
  const node = mathNode('mspace');
  node.setAttribute('width', '0.25em');
  return node;
}
