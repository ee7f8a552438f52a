// A script that is sent without its comments means what it meant: the same tokens, by TypeScript's own scanner.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const root = fileURLToPath(new URL('../..', import.meta.url));
const python = process.platform === 'win32' ? '.venv/Scripts/python' : '.venv/bin/python';
const told = JSON.parse(
  execFileSync(python, ['-m', 'tests.web.lean'], { cwd: root, encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 }),
);

/** Every leaf of the syntax tree, as kind and text: comments and white space are no leaves.
 * @param {string} source */
function leaves(source) {
  const file = ts.createSourceFile('x.js', source, ts.ScriptTarget.Latest, true, ts.ScriptKind.JS);
  /** @type {string[]} */
  const found = [];
  /** @param {ts.Node} node */
  const walk = (node) => {
    if (ts.isJSDoc(node)) return;
    const inner = node.getChildren(file).filter((one) => !ts.isJSDoc(one));
    if (inner.length) inner.forEach(walk);
    else {
      const text = node.getText(file);
      found.push(`${node.kind} ${inMarkup(node) ? text.replace(/\s*\n\s*/g, '\n') : text}`);
    }
  };
  walk(file);
  return found;
}

/** Whether this is a piece of a template that is markup: there a space is as good as ten.
 * @param {ts.Node} node */
function inMarkup(node) {
  const within = ts.isTemplateSpan(node.parent) || ts.isTemplateExpression(node.parent);
  if (!within && !ts.isNoSubstitutionTemplateLiteral(node)) return false;
  let up = node.parent;
  while (up && (ts.isTemplateSpan(up) || ts.isTemplateExpression(up))) up = up.parent;
  return ts.isTaggedTemplateExpression(up) && ['html', 'svg'].includes(up.tag.getText());
}

for (const [address, [source, sent]] of Object.entries(told)) {
  test(`${address} means the same without its comments`, () => {
    assert.deepEqual(leaves(sent), leaves(source));
  });
}

test('comments are what goes', () => {
  const [source, sent] = told['phone/store.js'];
  assert.ok(sent.length < source.length * 0.9);
  assert.ok(!/^\s*\/\//m.test(sent));
});
