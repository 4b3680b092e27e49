import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Arrow } from '../../engine/types';
import { Button, useModal } from '../../ui';
import { t } from '../../words';
import { ArrowLayer } from './ArrowLayer';
import { arrowOf, mostArrows, nudged } from './arrows';
import type { Redrawn } from './picture';
import { type Spot, spotIn, stepOf } from './spot';

interface Props {
  drawn: Redrawn;
  onKeep: (arrows: Arrow[]) => void;
  onClose: () => void;
}

/** A picture that was just taken, to look at before it is kept, and to draw arrows into. */
export function MarkPicture({ drawn, onKeep, onClose }: Props) {
  const box = useModal();
  const [arrows, setArrows] = useState<Arrow[]>([]);
  const full = arrows.length >= mostArrows;
  return (
    <dialog class="whole" ref={box} onClose={() => box.current && onClose()} aria-label={t('arrow.title')}>
      <p class="small">{t(full ? 'arrow.full' : 'arrow.hint')}</p>
      <Canvas drawn={drawn} arrows={arrows} onArrows={setArrows} full={full} />
      <div class="act">
        <div class="beside">
          <Button kind="quiet" onPress={() => (arrows.length > 0 ? setArrows(arrows.slice(0, -1)) : box.current?.close())}>
            {t(arrows.length > 0 ? 'arrow.off' : 'arrow.drop')}
          </Button>
          <Button kind="main" onPress={() => onKeep(arrows)}>
            {t('arrow.keep')}
          </Button>
        </div>
      </div>
    </dialog>
  );
}

/** How far an arrow key moves an arrow, as a part of the picture. */
const nudge = 0.02;

interface CanvasProps {
  drawn: Redrawn;
  arrows: Arrow[];
  onArrows: (arrows: Arrow[]) => void;
  full: boolean;
}

/** The picture as one key: a stroke draws an arrow; on a keyboard Enter sets one and the arrow keys move it. */
function Canvas({ drawn, arrows, onArrows, full }: CanvasProps) {
  const address = useMemo(() => URL.createObjectURL(new Blob([drawn.bytes], { type: 'image/jpeg' })), [drawn]);
  useEffect(() => () => URL.revokeObjectURL(address), [address]);
  const from = useRef<{ id: number; at: Spot } | null>(null);
  const spot = (event: PointerEvent) => spotIn((event.currentTarget as Element).firstElementChild!.getBoundingClientRect(), event.clientX, event.clientY);
  const down = (event: PointerEvent) => {
    if (from.current !== null || !event.isPrimary || full) return;
    from.current = { id: event.pointerId, at: spot(event) };
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
  };
  const up = (event: PointerEvent) => {
    const begun = from.current;
    if (begun?.id !== event.pointerId) return;
    from.current = null;
    onArrows([...arrows, arrowOf(begun.at, spot(event))]);
  };
  const key = (event: KeyboardEvent) => {
    const step = stepOf(event.key, nudge);
    if (step !== undefined) onArrows(nudged(arrows, ...step));
    else if (event.key === 'Enter' && !full) onArrows([...arrows, arrowOf({ x: 0.5, y: 0.5 }, { x: 0.5, y: 0.5 })]);
    else return;
    event.preventDefault();
  };
  return (
    <button
      type="button"
      class="mark-area"
      aria-label={t('arrow.area', { n: arrows.length })}
      onPointerDown={down}
      onPointerUp={up}
      onPointerCancel={() => (from.current = null)}
      onKeyDown={key}
    >
      <span class="pictured" style={{ '--shape': drawn.width / drawn.height }}>
        <img src={address} width={drawn.width} height={drawn.height} alt={t('arrow.title')} draggable={false} />
        <ArrowLayer arrows={arrows} width={drawn.width} height={drawn.height} />
      </span>
    </button>
  );
}
