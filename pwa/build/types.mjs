/**
 * Makes src/engine/types.ts and src/link/types.ts from the Go sources: schemas
 * by `go run ./pwa/core/types`, TypeScript by json-schema-to-typescript. The
 * files are never committed, so they can never be out of date.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { compile } from 'json-schema-to-typescript';

const described = execFileSync('go', ['run', './pwa/core/types'], { cwd: '..', maxBuffer: 1 << 26 });
const { schema, vocabulary, server } = JSON.parse(described.toString());

async function typescript(from) {
  const text = await compile(from, from.title, {
    additionalProperties: false,
    bannerComment: '/* Made by pwa/build/types.mjs from the Go sources. Do not edit, do not commit. */',
    format: false,
    unreachableDefinitions: true,
  });
  return text.replaceAll(/\n \* \n \* This interface was referenced by[^/]*\n \*\//g, '\n */');
}

const codes = `\n/** The lists of codes that record checks against. */\nexport const vocabulary = ${JSON.stringify(vocabulary, null, 2)} as const;\n`;
writeFileSync('src/engine/types.ts', (await typescript(schema)) + codes);
writeFileSync('src/link/types.ts', await typescript(server));
