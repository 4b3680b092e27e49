/**
 * Finds the strings of a screen that stand outside the catalogue, for the test
 * beside this file: text between tags, attributes that people see or hear, and
 * texts that an expression between tags may give.
 */
import { parseSync } from 'vite';

/** Attributes of elements and parts whose strings people see or hear. */
const seen = new Set([
  'title', 'alt', 'placeholder', 'label', 'aria-label', 'aria-description', 'aria-roledescription',
  'aria-valuetext', 'legend', 'words', 'word', 'hint', 'wrong', 'says',
]);

/** Strings that mean the same in every language: signs, digits, units' strokes. */
const letters = /\p{L}/u;

interface Node {
  type: string;
  [field: string]: unknown;
}

/** The strings that stand outside the catalogue in a screen's source. */
export function strayStrings(source: string): string[] {
  const found: string[] = [];
  const { program, errors } = parseSync('screen.tsx', source);
  if (errors.length > 0) throw new Error(`words: ${errors[0]?.message}`);
  visit(program as unknown as Node, found);
  return found;
}

function visit(node: Node, found: string[]): void {
  if (node.type === 'JSXText') keep(node.value, found);
  else if (node.type === 'JSXAttribute') attribute(node, found);
  else if (node.type === 'JSXElement' || node.type === 'JSXFragment') element(node, found);
  else children(node).forEach((child) => visit(child, found));
}

function attribute(node: Node, found: string[]): void {
  const name = (node.name as { name?: string }).name ?? '';
  const value = node.value as Node | null;
  if (value === null) return;
  if (seen.has(name)) given(value, found);
  else visit(value, found);
}

function element(node: Node, found: string[]): void {
  for (const child of children(node)) {
    if (child.type === 'JSXExpressionContainer') given(child, found);
    else visit(child, found);
  }
}

/** Follows what an expression may give: the branches of a choice, a bracket's inside. */
function given(node: Node, found: string[]): void {
  switch (node.type) {
    case 'Literal':
      keep(node.value, found);
      break;
    case 'TemplateLiteral':
      (node.quasis as { value: { raw: string } }[]).forEach((part) => keep(part.value.raw, found));
      children(node).forEach((child) => visit(child, found));
      break;
    case 'JSXExpressionContainer':
    case 'ParenthesizedExpression':
      given(node.expression as Node, found);
      break;
    case 'ConditionalExpression':
      visit(node.test as Node, found);
      given(node.consequent as Node, found);
      given(node.alternate as Node, found);
      break;
    case 'LogicalExpression':
      visit(node.left as Node, found);
      given(node.right as Node, found);
      break;
    default:
      visit(node, found);
  }
}

function keep(value: unknown, found: string[]): void {
  if (typeof value === 'string' && letters.test(value)) found.push(value.trim());
}

function children(node: Node): Node[] {
  return Object.values(node).flatMap((value) => {
    const many: unknown[] = Array.isArray(value) ? value : [value];
    return many.filter(isNode);
  });
}

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null && typeof (value as { type?: unknown }).type === 'string';
}
