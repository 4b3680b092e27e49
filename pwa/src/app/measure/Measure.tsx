import { useRoute } from 'preact-iso';
import { useState } from 'preact/hooks';
import { useAsk } from '../../engine/client';
import type { Amount, Finding, Observation, Picture } from '../../engine/types';
import { Button, Choice, Page } from '../../ui';
import { said, t } from '../../words';
import { Answered } from '../Answered';
import { corrects } from '../duty';
import { usePicture } from '../finding/usePicture';
import { seenOf } from '../desk/edit/change';
import { offerWithdrawal, useSaving } from '../save';
import { useDraft } from '../useDraft';
import { MeasuredFigure } from './MeasuredFigure';
import './measure.css';
import { begun, following, moved, pointedOf, type Pointing, type Scale, spots, viewAround } from './pointed';
import { Stage } from './Stage';

/** /finding/:id/measure/:hash: how large the bubble of a finding is, by one of its pictures. */
export function Measure() {
  const { id = '', hash = '' } = useRoute().params;
  const asked = useAsk('finding', { id });
  return (
    <Answered asked={asked} back={`/finding/${id}`}>
      {(finding) => {
        const picture = finding.pictures.find((one) => one.hash === hash && !one.withdrawn);
        return picture && finding.observation && finding.observation.size.as !== 'none' && corrects(finding.card.seen.by, finding.site) ? (
          <Measuring finding={finding} picture={picture} observation={finding.observation} />
        ) : (
          <Page title={t('measure.title')} back={`/finding/${id}`}>
            <p>{t('measure.not')}</p>
          </Page>
        );
      }}
    </Answered>
  );
}

interface Props {
  finding: Finding;
  picture: Picture;
  observation: Observation;
}

function Measuring({ finding, picture, observation }: Props) {
  const { card, site } = finding;
  const back = `/finding/${card.id}`;
  const tube = useTube(finding);
  const address = usePicture(picture);
  const draft = useDraft<Pointing>(`measure:${card.id}:${picture.hash}`, () => begun('card', picture));
  const [from] = useState(finding); // as it stood when measuring began
  const { problem, save } = useSaving();
  const pointed = draft.value && pointedOf(draft.value, picture, tube);
  const now = pointed && { ...observation, size: { as: 'picture', picture: pointed } };
  const measured = useAsk('measure', pointed && { picture: pointed }).answer;
  const estimate = useAsk('estimate', now && { round: card.round, joint: card.joint, observation: now }).answer;
  const use = async () => {
    if (now === null) return;
    const body = { observation: now, why: t('measure.why'), ...seenOf(from), ...(estimate?.shown && { shown: estimate.shown }) };
    const written = await save([{ kind: 'look-amended', site, fixture: card.fixture, of: card.id, base: from.eventId, body }]);
    if (written === null) return;
    draft.clear();
    offerWithdrawal(t('measure.used'), site, written);
    history.back();
  };
  if (draft.value === null || address === null) return <Page title={t('measure.title')} back={back}>{null}</Page>;
  const pointing = draft.value;
  const set = (part: 'marks' | 'rim') => draft.set({ ...pointing, part, chosen: 0 });
  const ready = now !== null && measured?.diameter !== undefined && estimate !== undefined;
  return (
    <Page title={t('measure.title')} back={back} act={<Act part={pointing.part} ready={ready} onPart={set} onUse={() => void use()} />}>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <div class="measure">
        <Pointer picture={picture} address={address} pointing={pointing} onPointing={draft.set} outline={measured?.outline ?? []} />
        <div class="measure-says">
          {pointing.part === 'marks' ? (
            <ScalePick tube={tube} scale={pointing.scale} onScale={(scale) => draft.set(begun(scale, picture))} />
          ) : (
            <MeasuredFigure measured={measured} estimate={estimate?.estimate} />
          )}
        </div>
      </div>
    </Page>
  );
}

/** The tube of the finding's joint, undefined where it is not known. */
function useTube({ card, observation }: Finding): Amount | undefined {
  const fixture = useAsk('fixture', { id: card.fixture }).answer;
  return fixture?.joints.find(({ id }) => id === card.joint)?.tube ?? observation?.size.tube;
}

interface ActProps {
  part: Pointing['part'];
  ready: boolean;
  onPart: (part: Pointing['part']) => void;
  onUse: () => void;
}

function Act({ part, ready, onPart, onUse }: ActProps) {
  if (part === 'marks') return <Button kind="main" onPress={() => onPart('rim')}>{t('measure.to-rim')}</Button>;
  return (
    <div class="beside">
      <Button kind="quiet" onPress={() => onPart('marks')}>{t('measure.to-scale')}</Button>
      <Button kind="main" disabled={!ready} onPress={onUse}>{t('measure.use')}</Button>
    </div>
  );
}

function ScalePick({ tube, scale, onScale }: { tube: Amount | undefined; scale: Scale; onScale: (scale: Scale) => void }) {
  const all: Scale[] = tube === undefined ? ['card'] : ['card', 'tube'];
  const words = (one: Scale) => (one === 'tube' && tube ? t('measure.by-tube', { value: tube.value, unit: said('unit', tube.unit) }) : t('measure.by-card'));
  return (
    <>
      <Choice legend={t('measure.scale')} slim options={all.map((value) => ({ value, words: words(value) }))} value={scale} onChoose={onScale} />
      <p class="small soft">{t(`measure.hint-${scale}`)}</p>
      {scale === 'card' && (
        <a class="button quiet" href="/api/card.pdf" target="_blank" rel="noreferrer">{t('measure.print')}</a>
      )}
    </>
  );
}

interface PointerProps {
  picture: Picture;
  address: string;
  pointing: Pointing;
  onPointing: (pointing: Pointing) => void;
  outline: { x: number; y: number }[];
}

const zooms = [1, 2, 4, 8];

/** The picture, and under it keys that move the chosen point by one pixel, go to the next, and come nearer. */
function Pointer({ picture, address, pointing, onPointing, outline }: PointerProps) {
  const [zoom, setZoom] = useState(0);
  const points = spots(pointing);
  const middle = points[pointing.chosen] ?? { x: picture.width / 2, y: picture.height / 2 };
  const [around, setAround] = useState(middle);
  const come = (next: number) => {
    setAround(middle);
    setZoom(next);
  };
  const next = () => {
    const on = following(pointing);
    if (zoom > 0) setAround(spots(on)[on.chosen] ?? middle);
    onPointing(on);
  };
  const view = viewAround(around, zooms[zoom] ?? 1, picture);
  const nudge = (dx: number, dy: number) => onPointing(moved(pointing, dx, dy, picture));
  return (
    <div class="measure-pointer">
      <p class="strong" role="status">{t(points.length === 0 ? 'measure.tap' : `measure.at-${pointing.part}`, { n: pointing.chosen + 1, of: points.length })}</p>
      <Stage picture={picture} address={address} pointing={pointing} onPointing={onPointing} view={view} outline={outline} />
      <div class="measure-keys">
        <Button label={t('measure.left')} onPress={() => nudge(-1, 0)}>←</Button>
        <Button label={t('measure.up')} onPress={() => nudge(0, -1)}>↑</Button>
        <Button label={t('measure.down')} onPress={() => nudge(0, 1)}>↓</Button>
        <Button label={t('measure.right')} onPress={() => nudge(1, 0)}>→</Button>
        <Button label={t('measure.farther')} disabled={zoom === 0} onPress={() => come(zoom - 1)}>−</Button>
        <Button label={t('measure.nearer')} disabled={zoom === zooms.length - 1} onPress={() => come(zoom + 1)}>+</Button>
        <Button disabled={points.length === 0} onPress={next}>{t('measure.next')}</Button>
      </div>
    </div>
  );
}
