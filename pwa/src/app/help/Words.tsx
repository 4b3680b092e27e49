import { Mark } from '../../ui';
import type { Say } from '../../words/help';

const marks = ['ring', 'half', 'drop', 'burst', 'dash', 'waiting', 'blank'] as const;

const words = [
  'site', 'fixture', 'tag', 'program', 'joint', 'test-side', 'reading', 'round', 'group', 'look', 'gross', 'finding', 'repair',
  'second-look', 'limit', 'allowance', 'calibrated-leak', 'set-aside',
] as const;

/** What each shape and each word of the app means. */
export function Words({ say }: { say: Say }) {
  return (
    <>
      <p class="strong">{say('words.lead')}</p>
      <section class="help-part">
        <h2>{say('words.marks')}</h2>
        <dl class="help-words">
          {marks.map((mark) => (
            <div key={mark}>
              <dt>
                <Mark mark={mark} />
              </dt>
              <dd>{say(`mark.${mark}`)}</dd>
            </div>
          ))}
        </dl>
      </section>
      <section class="help-part">
        <h2>{say('words.words')}</h2>
        <dl class="help-words">
          {words.map((word) => (
            <div key={word}>
              <dt class="strong">{say(`word.${word}`)}</dt>
              <dd>{say(`means.${word}`)}</dd>
            </div>
          ))}
        </dl>
      </section>
    </>
  );
}
