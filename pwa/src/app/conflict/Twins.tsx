import type { ConflictCard, JointCard } from '../../engine/types';
import { Button } from '../../ui';
import { said, t } from '../../words';
import { offerWithdrawal, useSaving } from '../save';
import { who } from '../stamp';
import { renaming, retiring } from './settle';

interface Props {
  card: ConflictCard;
  /** Whether this person may rename and retire joints there. */
  mine: boolean;
}

/** Joints that two devices named alike: each can be given another name or retired with one press. */
export function Twins({ card, mine }: Props) {
  const { problem, save } = useSaving();
  const name = card.free ?? '';
  const rename = async (joint: JointCard) => {
    const written = await save([renaming(card, joint)]);
    if (written !== null) offerWithdrawal(t('twin.renamed', { name }), card.site, written);
  };
  const retire = async (joint: JointCard) => {
    const written = await save([retiring(card, joint, t('twin.why'))]);
    if (written !== null) offerWithdrawal(t('joints.retired-done', { name: joint.name }), card.site, written);
  };
  const title = t('twin.title', { n: card.sides.length, name: card.name });
  return (
    <section class="conflict" aria-label={title}>
      <h2>{title}</h2>
      <p>{t('twin.lead')}</p>
      <ul>
        {card.sides.map(({ event, who: by, joint }) => joint && (
          <li key={event}>
            <p class="strong">{words(joint)}</p>
            <p class="small soft">{who(by)}</p>
            {mine && (
              <>
                <Button onPress={() => void rename(joint)}>{t('twin.rename', { name })}</Button>
                <Button kind="quiet" onPress={() => void retire(joint)}>{t('twin.retire')}</Button>
              </>
            )}
          </li>
        ))}
      </ul>
      {!mine && <p class="small">{t('conflict.supervisor')}</p>}
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
    </section>
  );
}

/** What tells a joint from another of its name. */
function words({ kind, circuit, history, mark }: JointCard): string {
  const looks = history.length === 0 ? said('mark', mark) : t('twin.looks', { n: history.length });
  return [said('kind', kind), said('circuit', circuit), looks].join(' · ');
}
