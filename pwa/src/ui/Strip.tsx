import { said, t } from '../words';
import { day } from '../words/when';
import { MarkShape } from './Mark';

/** One look in a strip. */
export interface StripLook {
  mark: string;
  time: string;
  /** Why it says less than a good look, a code of the family "less". */
  less?: string | undefined;
}

/** How many marks fit beside a joint's name. */
const most = 12;

/** The marks of a joint's last looks, oldest first, read out as one text. */
export function Strip({ looks: all }: { looks: readonly StripLook[] }) {
  if (all.length === 0) return null;
  const looks = all.slice(-most);
  const text = looks.map((look) => `${day(look.time)}: ${markWords(look)}`).join('; ');
  return (
    <span class="strip" role="img" aria-label={t('strip.label', { names: text })}>
      {looks.map((look) => (
        <MarkShape key={look.time} mark={look.mark} />
      ))}
    </span>
  );
}

/** A look's state, and why it says less where it does. */
export function markWords({ mark, less }: { mark: string; less?: string | undefined }): string {
  return less ? `${said('mark', mark)}, ${said('less', less)}` : said('mark', mark);
}
