/** Scanning a tag: the screen, and the page that a tag's link opens. */
export { Scan } from './Scan';
export { TagLink } from './TagLink';
