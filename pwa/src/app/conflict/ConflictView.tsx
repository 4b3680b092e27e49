import { codeOf } from '../../engine/client';
import type { ConflictCard, ConflictSide } from '../../engine/types';
import { useState } from 'preact/hooks';
import { Button } from '../../ui';
import { said, t } from '../../words';
import { corrects, supervises } from '../duty';
import { useSaving } from '../save';
import { called } from '../called';
import { who } from '../stamp';
import './conflict.css';
import { settlingWhole } from './settle';
import { Twins } from './Twins';
import { valueWords } from './value';

/** What two people gave one field, or joints that two named alike; who and when. One press settles it. */
export function ConflictView({ card }: { card: ConflictCard }) {
  return card.field === 'twin' ? <Twins card={card} mine={maySettle(card)} /> : <Values card={card} />;
}

function Values({ card }: { card: ConflictCard }) {
  const [wrong, setWrong] = useState('');
  const { problem, save } = useSaving();
  const settle = (side: ConflictSide) =>
    settlingWhole(card, side).then((draft) => save([draft])).catch((fault: unknown) => setWrong(t('fault.write', { code: codeOf(fault) })));
  const mine = maySettle(card);
  return (
    <section class="conflict" aria-label={title(card)}>
      <h2>{title(card)}</h2>
      <ul>
        {card.sides.map((side, at) => (
          <li key={side.event}>
            <p class="strong">{valueWords(card.field, side.value)}</p>
            <p class="small soft">
              {who(side.who)}
              {at === card.sides.length - 1 && ` · ${t('conflict.shows')}`}
            </p>
            {mine && (
              <Button label={t('conflict.take-this', { name: valueWords(card.field, side.value) })} onPress={() => void settle(side)}>
                {t('conflict.take')}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {!mine && <p class="small">{whose(card)}</p>}
      {(problem ?? wrong) && <p class="wrong" role="alert">{problem ?? wrong}</p>}
    </section>
  );
}

/** Whether this person may settle it: a supervisor there; of what was seen, also who made its first side and still records there. */
function maySettle({ noun, owner, site }: ConflictCard): boolean {
  return noun === 'look' ? corrects(owner, site) : supervises(site);
}

/** Who settles it: of what is set up at a fixture, a supervisor; of what was seen, whoever saw it too. */
function whose({ noun, owner, ownerName }: ConflictCard): string {
  return noun === 'look' ? t('conflict.owner', { name: called(owner, ownerName) }) : t('conflict.supervisor');
}

function title({ noun, name, field }: ConflictCard): string {
  return t('conflict.title', { name, field: said('field', `${noun}-${field}`) });
}
