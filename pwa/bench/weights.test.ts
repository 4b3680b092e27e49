import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { firstScreen, imported, listed, precached } from './weights';

const dist = mkdtempSync(join(tmpdir(), 'weights-'));
mkdirSync(join(dist, 'assets'));
const put = (path: string, text: string) => writeFileSync(join(dist, path), text);
const page = '<script type="module" src="/assets/index-1.js"></script><link rel="stylesheet" href="/assets/index-2.css"><link href="/icon.svg">';
put('index.html', page);
put('assets/index-1.js', 'import{a}from"./shared-3.js";const late=()=>import(`./late-4.js`);');
put('assets/index-1.js.br', 'x'.repeat(100));
put('assets/index-2.css', 'y'.repeat(20));
put('assets/shared-3.js', 'import"./index-1.js";' + 'z'.repeat(9));
put('assets/late-4.js', 'w'.repeat(500));
put('sw.js', 'precache([{url:"index.html",revision:"1"},{"url":"assets/index-1.js","revision":null},{url:"assets/index-1.js"}])');
afterAll(() => rmSync(dist, { recursive: true }));

test('the first screen is what the page names and what that imports at once, compressed where it was squeezed, each once', () => {
  expect(firstScreen(dist)).toBe(100 + 20 + 30);
});

test('a script that is asked for later is none of its imports', () => {
  expect(imported('import{a}from"./a-1.js";import`./b.js`;x=()=>import("./c.js");')).toEqual(['assets/a-1.js', 'assets/b.js']);
});

test('the service worker keeps what it lists, each once', () => {
  expect(listed('[{url:"a.js"},{"url":"b.css"},{url:"a.js"}]')).toEqual(['a.js', 'b.css']);
  expect(precached(dist)).toBe(page.length + 100);
  expect(() => listed('nothing')).toThrow('weights: the service worker lists nothing');
});
