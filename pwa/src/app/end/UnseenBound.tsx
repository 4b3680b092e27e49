import type { Unseen } from '../../engine/types';
import { HelpLink, unitWords } from '../../ui';
import { said, t } from '../../words';

/** "Nothing seen" is never zero: what those joints may still leak, or why it cannot be said. */
export function UnseenBound({ unseen }: { unseen: Unseen | undefined }) {
  if (unseen === undefined) return null;
  return (
    <section>
      <div class="with-help">
        <h2>{t('end.unseenTitle')}</h2>
        <HelpLink topic="limits" />
      </div>
      <p>{words(unseen)}</p>
      {unseen.weak && <p>{t('end.unseenWeak', { n: unseen.weak })}</p>}
      {unseen.beside && <p>{t('end.unseenBeside', { n: unseen.beside })}</p>}
    </section>
  );
}

function words(unseen: Unseen): string {
  const n = unseen.joints;
  if (unseen.cannotSay) return t('end.unseenCannot', { n, why: said('cannot', unseen.cannotSay) });
  const bound = t('end.unseen', { n, high: unseen.high ?? '', unit: unitWords(unseen.unit ?? '', unseen.ref) });
  return unseen.share ? `${bound} ${t('end.unseenShare', { share: unseen.share })}` : bound;
}
