/**
 * Makes src/engine/types.ts from the Go sources: schema by `go run
 * ./pwa/core/types`, TypeScript by json-schema-to-typescript. The file is
 * never committed, so it can never be out of date.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { compile } from 'json-schema-to-typescript';

const described = execFileSync('go', ['run', './pwa/core/types'], { cwd: '..', maxBuffer: 1 << 26 });
const { schema, vocabulary } = JSON.parse(described.toString());
const text = await compile(schema, 'Door', {
  additionalProperties: false,
  bannerComment: '/* Made by pwa/build/types.mjs from the Go sources. Do not edit, do not commit. */',
  format: false,
  unreachableDefinitions: true,
});
const plain = text.replaceAll(/\n \* \n \* This interface was referenced by[^/]*\n \*\//g, '\n */');
const codes = `\n/** The lists of codes that record checks against. */\nexport const vocabulary = ${JSON.stringify(vocabulary, null, 2)} as const;\n`;
mkdirSync('src/engine', { recursive: true });
writeFileSync('src/engine/types.ts', plain + codes);
