/**
 * Fails the build when a package that must exist once exists twice: with two
 * versions side by side the wrong wasm would be served to the other's glue.
 */
import { existsSync } from 'node:fs';
import type { Plugin } from 'vite';

export function oneCopy(name: string, ...users: string[]): Plugin {
  return {
    name: 'one-copy',
    buildStart() {
      for (const user of users) {
        if (existsSync(`node_modules/${user}/node_modules/${name}`)) {
          throw new Error(`${user} brings a second ${name}: pin the one that it asks for in package.json`);
        }
      }
    },
  };
}
