import { Button, Caution, Choice, Field, Figure, Going, Mark, NumberPad, Says, Select, Settings, Strip } from '../src/ui';
import { vocabulary } from '../src/engine/types';
import { said } from '../src/words';
import { figure, tiny } from './samples';
import { type Exhibit, nothing } from './Shelf';

const kinds = ['main', 'ordinary', 'quiet', 'plain'] as const;
const marks = ['ring', 'half', 'drop', 'burst', 'dash', 'waiting', 'blank'];
const three = ['one', 'two', 'three'].map((value) => ({ value, words: value }));

const buttons: Exhibit[] = kinds.flatMap((kind) => [
  { name: `button, ${kind}`, shown: <Button kind={kind} onPress={nothing}>Start the round</Button> },
  { name: `button, ${kind}, disabled`, shown: <Button kind={kind} disabled>Start the round</Button> },
]);

const choices: Exhibit[] = (['even', 'two', 'flow'] as const).map((layout) => ({
  name: `choice, ${layout}`,
  shown: (
    <>
      <Choice legend="Chosen" layout={layout} options={three} value="two" onChoose={nothing} />
      <Choice legend="None chosen, slim" slim layout={layout} options={three} value={null} onChoose={nothing} />
    </>
  ),
}));

const fields: Exhibit[] = [
  { name: 'field', shown: <Field label="Pressure" value="200" onInput={nothing} hint="Gauge; below zero is vacuum." /> },
  { name: 'field, wrong', shown: <Field label="Volume" value="two" wrong="This is no number." onInput={nothing} type="number" /> },
  { name: 'field, text', shown: <Field label="Note" value="Reached from below." onInput={nothing} type="textarea" /> },
  { name: 'list', shown: <Select label="Gas" value="air" options={vocabulary.gases.map((value) => ({ value, words: said('gas', value) }))} onChoose={nothing} /> },
  { name: 'number keys', shown: <NumberPad value="1" onChange={nothing} decimal /> },
];

const numbers: Exhibit[] = [
  { name: 'figure', shown: <Figure figure={figure} /> },
  { name: 'figure, while counting', shown: <Figure figure={figure} low /> },
  { name: 'figure, in a list', shown: <Figure figure={figure} list /> },
  { name: 'figure, off the bar, no limit', shown: <Figure figure={tiny} /> },
];

/** The small parts. */
export const parts: Exhibit[] = [
  ...buttons,
  ...choices,
  ...fields,
  ...numbers,
  { name: 'marks', shown: <>{marks.map((mark) => <p key={mark}><Mark mark={mark} /></p>)}</> },
  { name: 'strip of looks', shown: <Strip looks={marks.map((mark, i) => ({ mark, time: `2026-0${i + 1}-01T10:00:00.000Z` }))} /> },
  { name: 'caution, one', shown: <Caution codes={['repair']} /> },
  { name: 'caution, several', shown: <Caution codes={['lockout', 'rated', 'vacuum', 'wetting', 'gas', 'gas-inert', 'gross', 'end', 'rules']} /> },
  { name: 'under way', shown: <Going says="Fetching records: 500 of 524" done={500} of={524} onStop={nothing} /> },
  { name: 'under way, nobody knows how much', shown: <Going says="Fetching records: 500 so far" onStop={nothing} /> },
  { name: 'under way, not to be stopped', shown: <Going says="Taking all records off this device" /> },
  { name: 'sentences', shown: <Says lead says={[{ code: 'leaks-open', args: { n: '2' }, names: ['Port nut', 'Upper seal'] }, { code: 'not-looked', args: { n: '1' }, names: ['Rear clamp'] }]} /> },
  { name: 'settings', shown: <Settings /> },
];
