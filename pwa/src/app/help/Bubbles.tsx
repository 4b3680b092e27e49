import { Caution } from '../../ui';
import type { Say } from '../../words/help';
import { classes, type Span } from './classes';
import { Drawing } from './Drawing';

/** What each class of bubbles looks like, from what can be counted to what blows the solution off. */
export function Bubbles({ say }: { say: Say }) {
  return (
    <>
      <p class="strong">{say('bubbles.lead')}</p>
      <ul class="help-classes">
        <li>
          <Drawing of="single" />
          <div>
            <h2>{say('class.single')}</h2>
            <p>{say('look.single')}</p>
          </div>
        </li>
        {classes.map((one) => (
          <li key={one.code}>
            <Drawing of={one.code} />
            <div>
              <h2>{say(`class.${one.code}`)}</h2>
              <p>{say(`look.${one.code}`)}</p>
              <p class="small soft">{span(one, say)}</p>
            </div>
          </li>
        ))}
      </ul>
      <Caution codes={['gross']} />
      <p class="small soft">{say('bubbles.source')}</p>
    </>
  );
}

function span({ low, top, open }: Span, say: Say): string {
  return open ? say('bubbles.more', { low }) : say('bubbles.span', { low, high: top });
}
