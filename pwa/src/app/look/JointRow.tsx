import { useMemo, useRef } from 'preact/hooks';
import type { RoundJoint } from '../../engine/types';
import { MarkShape } from '../../ui';
import { num, said, t } from '../../words';
import { showsWaiting } from './group';

interface Props {
  joint: RoundJoint;
  /** In the group: wetted, or proposed to be. */
  lit: boolean;
  bubbling: boolean;
  /** Whether the clock runs. */
  running: boolean;
  /** The moment at which the device saw the press, in ms. */
  onPress: (at: number) => void;
  onMore: () => void;
}

/** A joint in the group look: one big row to press, and a side button for the rest. Drawn anew only where it changed: a thumb waits for it. */
export function JointRow(props: Props) {
  const { joint, lit, bubbling, running } = props;
  const newest = useRef(props);
  newest.current = props;
  return useMemo(() => {
    const idle = running && !lit;
    return (
      <li class={rowClass(joint, lit, bubbling, idle)} id={`row-${joint.id}`}>
        <button
          type="button"
          class="row-main"
          aria-pressed={running ? bubbling : lit}
          disabled={idle}
          onClick={(event) => newest.current.onPress(event.timeStamp)}
        >
          <Sign joint={joint} lit={lit} bubbling={bubbling} running={running} />
          <span>
            <span class="strong">{joint.name}</span>
            <span class="small soft row-more">{caption(joint, lit, bubbling, running)}</span>
          </span>
        </button>
        <button type="button" class="row-side" disabled={idle} onClick={() => newest.current.onMore()} aria-label={t('look.moreOf', { joint: joint.name })}>
          <More />
        </button>
      </li>
    );
  }, [joint, lit, bubbling, running]);
}

function More() {
  return (
    <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <g fill="currentColor">
        <circle cx="12" cy="5" r="2.4" />
        <circle cx="12" cy="12" r="2.4" />
        <circle cx="12" cy="19" r="2.4" />
      </g>
    </svg>
  );
}

function rowClass({ waits }: RoundJoint, lit: boolean, bubbling: boolean, idle: boolean): string {
  return ['row', waits && 'waits', lit && 'lit', bubbling && 'bubbling', idle && 'idle'].filter(Boolean).join(' ');
}

function Sign({ joint, lit, bubbling, running }: Pick<Props, 'joint' | 'lit' | 'bubbling' | 'running'>) {
  if (bubbling) return <MarkShape mark="drop" />;
  if (lit && running) return <MarkShape mark="blank" />;
  if (!lit) return <MarkShape mark={showsWaiting(joint) ? 'waiting' : joint.mark} />;
  return (
    <svg class="tick" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d="M4 12.5 10 18.5 20.5 6" fill="none" stroke="currentColor" stroke-width="3.5" />
    </svg>
  );
}

function caption(joint: RoundJoint, lit: boolean, bubbling: boolean, running: boolean): string {
  if (bubbling) return t('look.bubbles');
  if (showsWaiting(joint)) return said('mark', 'waiting');
  if (lit && !running) return [t('look.wetted'), ...past(joint)].join(' · ');
  if (joint.mark !== 'blank' && !lit) return [stands(joint), ...outcome(joint), ...(joint.waits ? [said('mark', 'waiting')] : [])].join(' · ');
  return [...(running ? [] : [said('kind', joint.kind)]), ...past(joint)].join(' · ');
}

/** What this round saw, or what became of the leak that it saw. */
function stands(joint: RoundJoint): string {
  return joint.state && joint.mark === 'ring' ? said('state', joint.state) : said('mark', joint.mark);
}

function outcome(joint: RoundJoint): string[] {
  if (joint.figure && joint.mark === 'ring') return [];
  if (joint.leaking !== undefined && joint.leaking > 1) return [spots(joint)];
  if (joint.figure) return [`${num(joint.figure.median)} ${said('unit', joint.figure.unit)}`];
  if (joint.mark === 'burst') return [...(joint.sign ? [said('sign', joint.sign)] : []), t('look.fixFirst')];
  if (joint.why) return [said('why', joint.why)];
  if (joint.less) return [said('less', joint.less)];
  return joint.mark === 'ring' && joint.seconds ? [t('look.seconds', { seconds: Math.round(joint.seconds) })] : [];
}

/** How many spots leak, and together how much where that is known. */
function spots({ leaking: n = 0, together: sum, figure }: RoundJoint): string {
  return sum && figure ? t('leak.spotsTogether', { n, sum: num(sum), unit: said('unit', figure.unit) }) : t('leak.spots', { n });
}

function past(joint: RoundJoint): string[] {
  const harmless = joint.before === 'ring' || joint.before === 'blank';
  return harmless ? [] : [t('look.before', { mark: said('mark', joint.before) })];
}
