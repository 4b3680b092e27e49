import { useRef } from 'preact/hooks';
import type { Picture, Spot } from '../../engine/types';
import { t } from '../../words';
import { stepOf } from '../finding/spot';
import { moved, nearest, type Pointing, spots, tapped, following, type View } from './pointed';

interface Props {
  picture: Picture;
  address: string;
  pointing: Pointing;
  onPointing: (pointing: Pointing) => void;
  view: View;
  /** The rim as it was fitted. */
  outline: readonly Spot[];
}

/** With Shift a key moves by so many pixels. */
const leap = 10;

/** The picture as one key: a finger drags the point that is nearest to it, the arrow keys move the chosen one, Enter goes on to the next. */
export function Stage(props: Props) {
  const { picture, pointing, onPointing, view } = props;
  const drag = useRef<{ id: number; at: Spot; from: Pointing } | null>(null);
  const place = (event: PointerEvent): Spot => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    return { x: view.x + ((event.clientX - box.left) / box.width) * view.width, y: view.y + ((event.clientY - box.top) / box.height) * view.height };
  };
  const down = (event: PointerEvent) => {
    if (!event.isPrimary) return;
    const at = place(event);
    if (spots(pointing).length === 0) return onPointing(tapped(pointing, at, picture.width / 50, picture));
    const from = { ...pointing, chosen: nearest(pointing, at) };
    drag.current = { id: event.pointerId, at, from };
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    onPointing(from);
  };
  const move = (event: PointerEvent) => {
    const begun = drag.current;
    if (begun?.id !== event.pointerId) return;
    const at = place(event);
    onPointing(moved(begun.from, at.x - begun.at.x, at.y - begun.at.y, picture));
  };
  const key = (event: KeyboardEvent) => {
    const step = stepOf(event.key, event.shiftKey ? leap : 1);
    if (event.key === 'Enter') onPointing(spots(pointing).length === 0 ? inMiddle(props) : following(pointing));
    else if (step !== undefined) onPointing(moved(pointing, ...step, picture));
    else return;
    event.preventDefault();
  };
  return (
    <button
      type="button"
      class="measure-stage"
      style={{ aspectRatio: `${picture.width} / ${picture.height}` }}
      aria-label={t(`measure.stage-${pointing.part}`, { n: pointing.chosen + 1, of: Math.max(1, spots(pointing).length) })}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={() => (drag.current = null)}
      onPointerCancel={() => (drag.current = null)}
      onKeyDown={key}
    >
      <Drawing {...props} />
      <Loupe {...props} />
    </button>
  );
}

function inMiddle({ pointing, picture, view }: Props): Pointing {
  return tapped(pointing, { x: view.x + view.width / 2, y: view.y + view.height / 2 }, picture.width / 50, picture);
}

function Drawing({ picture, address, pointing, view, outline }: Props) {
  const size = view.width / 40;
  return (
    <svg viewBox={`${view.x} ${view.y} ${view.width} ${view.height}`} aria-hidden="true" focusable="false">
      <image href={address} width={picture.width} height={picture.height} />
      <Scale pointing={pointing} />
      <Line spots={outline} />
      {spots(pointing).map(({ x, y }, i) => (
        <g key={i} class={i === pointing.chosen ? 'spot chosen' : 'spot'}>
          <circle cx={x} cy={y} r={size} />
          <circle class="inner" cx={x} cy={y} r={size} />
        </g>
      ))}
    </svg>
  );
}

function Line({ spots }: { spots: readonly Spot[] }) {
  const points = spots.map(({ x, y }) => `${x},${y}`).join(' ');
  return (
    <>
      <polygon class="under" points={points} />
      <polygon class="over" points={points} />
    </>
  );
}

/** The card's edges, or the tube's. */
function Scale({ pointing: { scale, marks } }: { pointing: Pointing }) {
  return scale === 'card' ? <Line spots={marks} /> : <Edges spots={marks} />;
}

function Edges({ spots }: { spots: readonly Spot[] }) {
  return (
    <>
      <Line spots={spots.slice(0, 2)} />
      <Line spots={spots.slice(2)} />
    </>
  );
}

/** How many pixels of the picture the loupe shows: at a card's round corner enough to lay the lines along its straight edges. Judgement. */
const sights = { marks: 96, rim: 48 };

/** What is under the chosen point, magnified, in the corner away from it. */
function Loupe({ picture, address, pointing, view, outline }: Props) {
  const spot = spots(pointing)[pointing.chosen];
  if (spot === undefined) return null;
  const sight = sights[pointing.part];
  const right = spot.x < view.x + view.width / 2;
  return (
    <svg class={right ? 'loupe right' : 'loupe'} viewBox={`${spot.x - sight / 2} ${spot.y - sight / 2} ${sight} ${sight}`} aria-hidden="true" focusable="false">
      <image href={address} width={picture.width} height={picture.height} />
      <Scale pointing={pointing} />
      <Line spots={outline} />
      <path class="under" d={cross(spot, sight)} />
      <path class="over" d={cross(spot, sight)} />
    </svg>
  );
}

/** A cross with its middle left open. */
function cross({ x, y }: Spot, sight: number): string {
  const [near, far] = [sight / 24, sight / 4];
  return `M${x - far} ${y}H${x - near}M${x + near} ${y}H${x + far}M${x} ${y - far}V${y - near}M${x} ${y + near}V${y + far}`;
}
