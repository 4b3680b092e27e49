import type { JointCard } from '../../engine/types';

interface Props {
  joints: readonly JointCard[];
  width: number;
  height: number;
  /** The joint that is being pinned, and where it would stand; its pin is lit. */
  chosen?: string | null;
  draft?: { x: number; y: number } | null;
}

/** The joints' numbers, in place order, where they are pinned in a photo of that size. */
export function PinLayer({ joints, width, height, chosen = null, draft = null }: Props) {
  const r = Math.max(width, height) / 30;
  return (
    <svg class="over-picture pins" viewBox={`0 0 ${width} ${height}`} preserveAspectRatio="xMidYMid slice" aria-hidden="true" focusable="false">
      {joints.map((joint, i) => {
        const at = joint.id === chosen && draft !== null ? draft : joint.pin;
        if (!at) return null;
        return (
          <g key={joint.id} class={joint.id === chosen ? 'pin chosen' : 'pin'} transform={`translate(${at.x * width} ${at.y * height})`}>
            <circle r={r} stroke-width={r / 6} />
            <text text-anchor="middle" dominant-baseline="central" font-size={r * 1.15}>
              {i + 1}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
