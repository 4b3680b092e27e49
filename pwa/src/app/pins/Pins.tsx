import { useRoute } from 'preact-iso';
import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Fixture, JointCard, PictureCard } from '../../engine/types';
import { Button, MarkShape, Page } from '../../ui';
import { said, t } from '../../words';
import { Answered } from '../Answered';
import { seenOf } from '../desk/edit/change';
import { supervises } from '../duty';
import { PictureShown } from '../finding/PictureShown';
import { moved, type Spot, spotIn, stepOf } from '../finding/spot';
import { offerWithdrawal, useSaving } from '../save';
import { PinLayer } from './PinLayer';
import './pins.css';
import { nextUnpinned, pinnedOf } from './pins';

/** /f/:id/pins: where each joint is in the fixture's photo; supervisors set it. */
export function Pins() {
  const id = useRoute().params.id ?? '';
  const asked = useAsk('fixture', { id });
  return (
    <Answered asked={asked} back={`/f/${id}`}>
      {(fixture) => (fixture.photo === undefined ? <NoPhoto fixture={fixture} /> : <Pinned fixture={fixture} photo={fixture.photo} />)}
    </Answered>
  );
}

function NoPhoto({ fixture }: { fixture: Fixture }) {
  const act = supervises(fixture.site) && (
    <Button kind="main" href={`/f/${fixture.id}/edit`}>
      {t('photo.add')}
    </Button>
  );
  return (
    <Page title={t('pins.title')} back={`/f/${fixture.id}`} act={act}>
      <p>{t('pins.none')}</p>
    </Page>
  );
}

function Pinned({ fixture, photo }: { fixture: Fixture; photo: PictureCard }) {
  const may = supervises(fixture.site);
  const { problem, save } = useSaving();
  const [picked, setPicked] = useState<string | null>(null);
  const chosen = may ? (picked ?? nextUnpinned(fixture.joints, null)) : picked;
  const joint = fixture.joints.find(({ id }) => id === chosen);
  const pin = async (at: Spot | null) => {
    if (joint === undefined) return;
    const place = at === null ? { photo: '', x: 0, y: 0 } : { photo: photo.hash, ...at };
    const body = { pin: place, ...seenOf(joint) };
    const written = await save([{ kind: 'joint-edited', site: fixture.site, fixture: fixture.id, of: joint.id, base: joint.event, body }]);
    if (written === null) return;
    setPicked(at === null ? joint.id : nextUnpinned(fixture.joints, joint.id));
    offerWithdrawal(t(at === null ? 'pins.taken' : 'pins.set', { joint: joint.name }), fixture.site, written);
  };
  return (
    <Page title={t('pins.title')} back={`/f/${fixture.id}`} act={may && <Act joint={joint} onOff={() => void pin(null)} fixture={fixture} />}>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <div class="pin-sides">
        <Board key={chosen} fixture={fixture} photo={photo} chosen={chosen} onPin={may ? (at) => void pin(at) : undefined} />
        <ol class="pin-rows">
          {fixture.joints.map((one, i) => (
            <Row key={one.id} joint={one} number={i + 1} chosen={one.id === chosen} onPress={() => setPicked(one.id)} />
          ))}
        </ol>
      </div>
    </Page>
  );
}

function Act({ joint, onOff, fixture }: { joint: JointCard | undefined; onOff: () => void; fixture: Fixture }) {
  if (joint === undefined) return <p role="status">{t('pins.all', { n: pinnedOf(fixture.joints) })}</p>;
  return (
    <div class="pin-act">
      <p role="status">{t('pins.where', { joint: joint.name })}</p>
      {joint.pin && (
        <Button kind="quiet" onPress={onOff}>
          {t('pins.off')}
        </Button>
      )}
    </div>
  );
}

/** How far an arrow key moves a pin, as a part of the photo. */
const nudge = 0.01;

interface BoardProps {
  fixture: Fixture;
  photo: PictureCard;
  chosen: string | null;
  /** Left out for whoever may only look. */
  onPin?: ((at: Spot) => void) | undefined;
}

/** The photo: a press pins the chosen joint there; on a keyboard the arrow keys move its pin and Enter sets it. */
function Board({ fixture, photo, chosen, onPin }: BoardProps) {
  const [draft, setDraft] = useState<Spot | null>(null);
  const picture = (
    <PictureShown key={photo.hash} picture={photo} words={t('photo.of', { name: fixture.name })}>
      <PinLayer joints={fixture.joints} width={photo.width} height={photo.height} chosen={chosen} draft={draft} />
    </PictureShown>
  );
  const joint = fixture.joints.find(({ id }) => id === chosen);
  if (onPin === undefined || joint === undefined) return <div class="pin-board">{picture}</div>;
  const key = (event: KeyboardEvent) => {
    const step = stepOf(event.key, nudge);
    const at = draft ?? joint.pin ?? { x: 0.5, y: 0.5 };
    if (step !== undefined) setDraft(moved(at, ...step));
    else if (event.key === 'Enter') onPin({ x: at.x, y: at.y });
    else return;
    event.preventDefault();
  };
  const press = (event: MouseEvent) => {
    if (event.detail > 0) onPin(spotIn((event.currentTarget as Element).getBoundingClientRect(), event.clientX, event.clientY));
  };
  return (
    <button type="button" class="pin-board" aria-label={t('pins.board', { joint: joint.name })} onClick={press} onKeyDown={key}>
      {picture}
    </button>
  );
}

function Row({ joint, number, chosen, onPress }: { joint: JointCard; number: number; chosen: boolean; onPress: () => void }) {
  return (
    <li>
      <button type="button" class="pin-row" aria-pressed={chosen} onClick={onPress}>
        <span class="pin-number">{joint.pin ? number : '–'}</span>
        <span>
          <span class="strong">{joint.name}</span>
          <span class="small soft pin-more">{joint.pin ? said('mark', joint.mark) : t('pins.not')}</span>
        </span>
        <MarkShape mark={joint.mark} />
      </button>
    </li>
  );
}
