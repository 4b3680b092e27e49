/** How a device comes in: start, set-up, join, and why it may not work offline. */
export { Connection, whyNotOffline } from './Connection';
export { leave } from './door';
export { Join } from './Join';
export { Setup } from './Setup';
export { Start } from './Start';
