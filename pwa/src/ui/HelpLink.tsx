import { t } from '../words';

/** What the help is about, one page each. */
export const topics = ['bubbles', 'count', 'collect', 'order', 'limits', 'words'] as const;
export type Topic = (typeof topics)[number];

/** A small "?" where a word or a number needs explaining. The help leads back to where it was pressed; drafts stay. */
export function HelpLink({ topic }: { topic: Topic }) {
  return (
    <a class="help-link" href={`/help/${topic}?from=${encodeURIComponent(location.pathname)}`} aria-label={t(`help.${topic}`)}>
      ?
    </a>
  );
}
