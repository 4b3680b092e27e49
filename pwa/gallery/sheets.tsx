import { SendAgain } from '../src/app/aside/SendAgain';
import '../src/app/desk/desk.css';
import { BlankLabels } from '../src/app/desk/BlankLabels';
import { JointForm } from '../src/app/desk/edit/JointForm';
import { PasteList } from '../src/app/desk/edit/PasteList';
import { EraseName } from '../src/app/desk/EraseName';
import { NewFixture } from '../src/app/desk/NewFixture';
import { SiteForm } from '../src/app/desk/SiteForm';
import { Amend } from '../src/app/finding/Amend';
import { MarkPicture } from '../src/app/finding/MarkPicture';
import { MendLater } from '../src/app/finding/Mended';
import '../src/app/finding/finding.css';
import { WithdrawPicture } from '../src/app/finding/WithdrawPicture';
import { begun } from '../src/app/leak/observation';
import { Rings } from '../src/app/leak/Rings';
import { RunningClock, RunningTaps } from '../src/app/leak/Running';
import { RowSheet } from '../src/app/look/RowSheet';
import { NoteSheet } from '../src/app/notes/Notes';
import { CopyFrom } from '../src/app/register/CopyFrom';
import type { Finding, Observation } from '../src/engine/types';
import { card, finding, fixture, joint, note, photo, round, stamp } from './samples';
import { type Exhibit, nothing } from './Shelf';

const group = { value: null, set: nothing, problem: null, start: nothing, finish: async () => {}, stop: nothing, record: async () => {} };

const seen: Observation = { medium: 'film', how: 'window', count: 8, seconds: 30, size: { as: 'tube', share: 0.25 } };

const whole: Finding = {
  agrees: true, card: finding(), conditions: round().conditions, estimate: {}, eventId: 'e', observation: seen, pictures: [], site: 's',
  spares: ['O-ring 8 × 1.5', 'Ferrule 6'], story: [],
};

const aside = { at: stamp.time, by: 'p', site: 's', fixture: 'x', of: 'x', kind: 'fixture-edited', code: 'unknown-log', hash: '', line: '', may: true, mine: true };

/** A grey picture, as a phone's camera gives one. */
function grey() {
  const canvas = Object.assign(document.createElement('canvas'), { width: 400, height: 300 });
  canvas.getContext('2d')?.fillRect(0, 0, 400, 300);
  const [, coded = ''] = canvas.toDataURL('image/jpeg').split(',');
  return { bytes: Uint8Array.from(atob(coded), (one) => one.charCodeAt(0)).buffer, width: 400, height: 300 };
}

const counting = (how: 'window' | 'ten' | 'collected') => (
  <RunningClock draft={{ ...begun('film', how), startedAt: Date.now() - 12_300 }} onStop={nothing} />
);

/** What lies over a page while it is asked, or while it counts. */
export const sheets: Exhibit[] = [
  { name: 'more of a joint', shown: <RowSheet joint={joint()} round={round({ notes: [note] })} group={group} onClose={nothing} /> },
  { name: 'note', shown: <NoteSheet place={{ site: 's', fixture: 'x', of: 'j' }} title="Note about the elbow at the manifold" onClose={nothing} /> },
  { name: 'counting, stopwatch', shown: counting('window') },
  { name: 'counting, ten bubbles', shown: counting('ten') },
  { name: 'counting, gas', shown: counting('collected') },
  { name: 'counting, taps, none yet', shown: <RunningTaps taps={[]} onTaps={nothing} onDone={nothing} /> },
  { name: 'counting, taps', shown: <RunningTaps taps={[0, 1.2, 2.5]} onTaps={nothing} onDone={nothing} /> },
  { name: 'rings', shown: <Rings perMm={6.3} from="3" onTake={nothing} onLeave={nothing} /> },
  { name: 'mended later', shown: <MendLater finding={whole} onClose={nothing} /> },
  { name: 'correct', shown: <Amend finding={whole} observation={seen} onClose={nothing} /> },
  { name: 'picture, arrows', shown: <MarkPicture drawn={grey()} onKeep={nothing} onClose={nothing} /> },
  { name: 'picture, withdraw', shown: <WithdrawPicture card={photo} site="s" fixture="x" of="f" onClose={nothing} /> },
  { name: 'joints of another fixture', shown: <CopyFrom to={fixture()} onCopied={nothing} onClose={nothing} /> },
  { name: 'joint, new', shown: <JointForm fixture={fixture()} onClose={nothing} /> },
  { name: 'joint, change', shown: <JointForm fixture={fixture()} joint={card()} onClose={nothing} /> },
  { name: 'joints, pasted', shown: <PasteList fixture={fixture()} onClose={nothing} /> },
  { name: 'site, new', shown: <SiteForm onDone={nothing} /> },
  { name: 'fixture, new', shown: <NewFixture site={{ id: 's', name: 'Plant one' }} onClose={nothing} /> },
  { name: 'labels printed ahead', shown: <BlankLabels onClose={nothing} /> },
  { name: 'erase a name', shown: <EraseName person={{ id: 'p', name: stamp.name, grants: {} }} onClose={nothing} /> },
  { name: 'send again', shown: <SendAgain aside={aside} line={{ body: { note: 'Clamp slowly.', seconds: 12 } }} onClose={nothing} onDone={nothing} /> },
];
