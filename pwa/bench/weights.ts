/** What a phone loads, in bytes as the server sends them: brotli where the build squeezed a file, else as it is. */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** A file as it is sent. */
function sent(dist: string, path: string): number {
  const file = join(dist, path);
  return statSync(existsSync(`${file}.br`) ? `${file}.br` : file).size;
}

/**
 * Scripts and styles of the first screen: what the page names and what those scripts import before they run, English words
 * among it. The worker and the engine come beside it and are not counted.
 */
export function firstScreen(dist: string): number {
  const page = readFileSync(join(dist, 'index.html'), 'utf8');
  const todo = [...page.matchAll(/(?:src|href)="\/(assets\/[^"]+\.(?:js|css))"/g)].map(([, path]) => path ?? '');
  if (todo.length === 0) throw new Error('weights: the page names no scripts');
  const seen = new Set<string>();
  for (let path = todo.pop(); path !== undefined; path = todo.pop()) {
    if (seen.has(path)) continue;
    seen.add(path);
    if (path.endsWith('.js')) todo.push(...imported(readFileSync(join(dist, path), 'utf8')));
  }
  return [...seen].reduce((sum, path) => sum + sent(dist, path), 0);
}

/** What a built script imports statically, as paths. */
export function imported(script: string): string[] {
  return [...script.matchAll(/(?:\bfrom|\bimport)\s*["'`]\.\/([\w.-]+\.js)["'`]/g)].map(([, name]) => `assets/${name}`);
}

/** All that the service worker keeps for offline starts. */
export function precached(dist: string): number {
  return listed(readFileSync(join(dist, 'sw.js'), 'utf8')).reduce((sum, path) => sum + sent(dist, path), 0);
}

/** The paths in a service worker's list. */
export function listed(worker: string): string[] {
  const paths = new Set([...worker.matchAll(/["']?url["']?:\s*["']([^"']+)["']/g)].map(([, path]) => path ?? ''));
  if (paths.size === 0) throw new Error('weights: the service worker lists nothing');
  return [...paths];
}
