import { FindingRow } from '../src/app/FindingRow';
import { Missed } from '../src/app/end/Missed';
import { PutBack } from '../src/app/end/PutBack';
import { UnseenBound } from '../src/app/end/UnseenBound';
import '../src/app/end/end.css';
import { ArrowLayer } from '../src/app/finding/ArrowLayer';
import '../src/app/fixture/fixture.css';
import { NoteList } from '../src/app/notes/Notes';
import { PinLayer } from '../src/app/pins/PinLayer';
import '../src/app/pins/pins.css';
import { vocabulary } from '../src/engine/types';
import { card, finding, joint, note, photo, unseen } from './samples';
import { type Exhibit, nothing } from './Shelf';

/** A grey picture with something over it. */
function Over({ children }: { children: preact.ComponentChildren }) {
  return <div class="pictured" style={{ aspectRatio: '4 / 3', background: '#777' }}>{children}</div>;
}

const bounds: Exhibit[] = [
  { name: 'nothing seen', shown: <UnseenBound unseen={unseen} /> },
  { name: 'nothing seen, some only partly', shown: <UnseenBound unseen={{ ...unseen, weak: 2, beside: 1 }} /> },
  { name: 'nothing seen, cannot say', shown: <UnseenBound unseen={{ joints: 1, cannotSay: 'solution-left' }} /> },
];

/** The end of a round, and what stays of it. */
export const ends: Exhibit[] = [
  ...bounds,
  { name: 'not seen', shown: <Missed joints={[joint({ mark: 'half' }), joint({ id: 'k', mark: 'dash', why: 'hot' }), joint({ id: 'l' })]} /> },
  { name: 'put back', shown: <PutBack codes={vocabulary.putBacks} done={['settings', 'guard']} onDone={nothing} /> },
  { name: 'finding', shown: <FindingRow card={finding()} /> },
  { name: 'finding, gross', shown: <FindingRow card={finding({ mark: 'burst', sign: 'blown-off', figure: undefined, share: undefined, cannotSay: 'gross' } as never)} /> },
  { name: 'finding, waits for its second look', shown: <FindingRow card={finding({ mark: 'waiting', state: 'waiting' })} /> },
  { name: 'notes', shown: <NoteList notes={[note]} /> },
  { name: 'arrows', shown: <Over><ArrowLayer arrows={[{ fromX: 0.2, fromY: 0.2, x: 0.6, y: 0.7 }]} width={photo.width} height={photo.height} /></Over> },
  { name: 'pins', shown: <Over><PinLayer joints={[card({ pin: { photo: 'p', x: 0.2, y: 0.3 } }), card({ id: 'k', pin: { photo: 'p', x: 0.7, y: 0.6 } })]} width={400} height={300} chosen="k" /></Over> },
];
