import { Bar, Caution } from '../../ui';
import type { HelpCode, Say } from '../../words/help';
import { sensitivity } from './classes';
import { Measure } from './Measure';

/** A heading and what belongs under it. */
function Part({ say, about, says }: { say: Say; about: HelpCode; says: readonly HelpCode[] }) {
  return (
    <section class="help-part">
      <h2>{say(about)}</h2>
      {says.map((code) => (
        <p key={code}>{say(code)}</p>
      ))}
    </section>
  );
}

/** How to count and size bubbles. */
export function Counting({ say }: { say: Say }) {
  return (
    <>
      <p class="strong">{say('count.lead')}</p>
      <Part say={say} about="count.ways" says={['count.window', 'count.ten', 'count.taps', 'count.fast']} />
      <Part say={say} about="count.size" says={['count.size-when', 'count.size-matters']} />
      <Part say={say} about="count.wipe" says={['count.wipe-why']} />
    </>
  );
}

/** How gas is collected in a measure. */
export function Collecting({ say }: { say: Say }) {
  return (
    <>
      <p class="strong">{say('collect.lead')}</p>
      <Caution codes={['collect']} />
      <Measure volume={say('collect.part-volume')} head={say('collect.part-head')} />
      <p>{say('collect.how')}</p>
      <p>{say('collect.volume')}</p>
      <p>{say('collect.time')}</p>
      <p>{say('collect.head')}</p>
    </>
  );
}

/** The order of pressure, solution and look, and why there is a second look. */
export function Order({ say }: { say: Say }) {
  return (
    <>
      <p class="strong">{say('order.lead')}</p>
      <Caution codes={['rated', 'rules']} />
      <Part say={say} about="order.pressure" says={['order.pressure-why']} />
      <Part say={say} about="order.wet" says={['order.wet-why']} />
      <Caution codes={['wetting']} />
      <Part say={say} about="order.look" says={['order.look-why']} />
      <Part say={say} about="order.second" says={['order.second-why', 'order.vented']} />
      <Caution codes={['repair']} />
    </>
  );
}

/** Places on the bar that show what its parts are. */
const sample = { low: 0.31, median: 0.4, high: 0.49, limit: 0.72, allowance: 0.52 };

/** Why there is a limit, an allowance and an interval, and what bubbles cannot show. */
export function Limits({ say }: { say: Say }) {
  return (
    <>
      <p class="strong">{say('limits.lead')}</p>
      <section class="help-part">
        <Bar bar={sample} scale />
        <p class="small soft">{say('limits.bar')}</p>
      </section>
      <Part say={say} about="limits.why" says={['limits.why-says']} />
      <Part say={say} about="limits.share" says={['limits.share-says']} />
      <Part say={say} about="limits.wide" says={['limits.wide-says']} />
      <Part say={say} about="limits.none" says={['limits.none-says']} />
      <section class="help-part">
        <h2>{say('limits.cannot')}</h2>
        <p>{say('limits.cannot-says', sensitivity)}</p>
        <p>{say('limits.cannot-do')}</p>
      </section>
    </>
  );
}
