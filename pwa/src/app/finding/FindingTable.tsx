import type { FindingCard } from '../../engine/types';
import { Bar, MarkShape, unitWords } from '../../ui';
import { num, said, t } from '../../words';
import { placeName } from '../placeName';
import { nameOf, timeOf } from '../stamp';

/** Findings as a dense table, for a desk. */
export function FindingTable({ cards }: { cards: readonly FindingCard[] }) {
  return (
    <table class="table findings">
      <thead>
        <tr>
          <th scope="col">{t('findings.joint')}</th>
          <th scope="col">{t('findings.fixture')}</th>
          <th scope="col">{t('findings.state')}</th>
          <th scope="col">{t('findings.rate')}</th>
          <th scope="col">{t('findings.share')}</th>
          <th scope="col">{t('findings.seen')}</th>
          <th scope="col">{t('findings.review')}</th>
        </tr>
      </thead>
      <tbody>
        {cards.map((card) => (
          <Line key={card.id} card={card} />
        ))}
      </tbody>
    </table>
  );
}

function Line({ card }: { card: FindingCard }) {
  const { figure, share } = card;
  return (
    <tr>
      <th scope="row">
        <a class="mark" href={`/finding/${card.id}`}>
          <MarkShape mark={card.mark} />
          {placeName(card.jointName, card.spot)}
        </a>
        <span class="soft">{said('circuit', card.circuit)}</span>
      </th>
      <td>{card.fixtureName}</td>
      <td class={card.state === 'waiting' ? 'strong' : undefined}>
        {said('state', card.state)}
        {card.obstacle && <span class="soft">{t('mend.lastLook', { why: said('obstacle', card.obstacle) })}</span>}
      </td>
      <td class="rate">
        {figure ? (
          <>
            <span>
              <span class="strong">{num(figure.median)}</span> {unitWords(figure.unit, figure.ref)}
            </span>
            <span class="soft">{t('findings.range', { low: figure.low, high: figure.high })}</span>
            <Bar bar={figure.bar} />
          </>
        ) : (
          t(card.cannotSay === 'gross' ? 'findings.gross' : 'findings.not-sized')
        )}
      </td>
      <td class="number">
        {share && (
          <>
            <span class="strong">{num(share.median)} %</span>
            <span class="soft">{t('findings.range', { low: share.low, high: share.high })}</span>
          </>
        )}
      </td>
      <td>
        {timeOf(card.seen)}
        <span class="soft">{nameOf(card.seen)}</span>
      </td>
      <td>{card.review ? said('verdict', card.review) : t('findings.not-reviewed')}</td>
    </tr>
  );
}
