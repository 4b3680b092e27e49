import type { Arrow } from '../../engine/types';

interface Props {
  arrows: readonly Arrow[];
  width: number;
  height: number;
}

/** Arrows over a picture of that size: light with a dark edge, so that they are seen on every ground. */
export function ArrowLayer({ arrows, width, height }: Props) {
  if (arrows.length === 0) return null;
  const thick = Math.max(width, height) / 120;
  return (
    <svg class="over-picture" viewBox={`0 0 ${width} ${height}`} preserveAspectRatio="xMidYMid slice" aria-hidden="true" focusable="false">
      {arrows.map((arrow, i) => (
        <g key={i} fill="none" stroke-linecap="round" stroke-linejoin="round">
          <path d={drawn(arrow, width, height, thick * 5)} stroke="#000" stroke-width={thick * 2.2} />
          <path d={drawn(arrow, width, height, thick * 5)} stroke="#fff" stroke-width={thick} />
        </g>
      ))}
    </svg>
  );
}

/** Shaft and head of an arrow; the head's sides are `head` long. */
function drawn(arrow: Arrow, width: number, height: number, head: number): string {
  const [fromX, fromY, x, y] = [arrow.fromX * width, arrow.fromY * height, arrow.x * width, arrow.y * height];
  const back = Math.atan2(fromY - y, fromX - x);
  const side = (turn: number) => `${x + head * Math.cos(back + turn)} ${y + head * Math.sin(back + turn)}`;
  return `M${fromX} ${fromY}L${x} ${y}M${side(0.5)}L${x} ${y}L${side(-0.5)}`;
}
