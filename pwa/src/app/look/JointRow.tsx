import type { RoundJoint } from '../../engine/types';
import { MarkShape } from '../../ui';
import { num, said, t } from '../../words';

interface Props {
  joint: RoundJoint;
  /** In the group: wetted, or proposed to be. */
  lit: boolean;
  bubbling: boolean;
  /** Whether the clock runs. */
  running: boolean;
  onPress: () => void;
  onMore: () => void;
}

/** A joint in the group look: one big row to press, and a side button for the rest. */
export function JointRow({ joint, lit, bubbling, running, onPress, onMore }: Props) {
  const idle = running && !lit;
  return (
    <li class={rowClass(lit, bubbling, idle)} id={`row-${joint.id}`}>
      <button type="button" class="row-main" aria-pressed={running ? bubbling : lit} disabled={idle} onClick={onPress}>
        <Sign joint={joint} lit={lit} bubbling={bubbling} running={running} />
        <span>
          <span class="strong">{joint.name}</span>
          <span class="small soft row-more">{caption(joint, lit, bubbling, running)}</span>
        </span>
      </button>
      <button type="button" class="row-side" disabled={idle} onClick={onMore} aria-label={t('look.moreOf', { joint: joint.name })}>
        <svg viewBox="0 0 24 24" aria-hidden="true" focusable="false">
          <g fill="currentColor">
            <circle cx="12" cy="5" r="2.4" />
            <circle cx="12" cy="12" r="2.4" />
            <circle cx="12" cy="19" r="2.4" />
          </g>
        </svg>
      </button>
    </li>
  );
}

function rowClass(lit: boolean, bubbling: boolean, idle: boolean): string {
  return ['row', lit && 'lit', bubbling && 'bubbling', idle && 'idle'].filter(Boolean).join(' ');
}

function Sign({ joint, lit, bubbling, running }: Pick<Props, 'joint' | 'lit' | 'bubbling' | 'running'>) {
  if (bubbling) return <MarkShape mark="drop" />;
  if (lit && running) return <MarkShape mark="blank" />;
  if (!lit) return <MarkShape mark={joint.mark} />;
  return (
    <svg class="tick" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
      <path d="M4 12.5 10 18.5 20.5 6" fill="none" stroke="currentColor" stroke-width="3.5" />
    </svg>
  );
}

function caption(joint: RoundJoint, lit: boolean, bubbling: boolean, running: boolean): string {
  if (bubbling) return t('look.bubbles');
  if (lit && !running) return [t('look.wetted'), ...past(joint)].join(' · ');
  if (joint.mark !== 'blank' && !lit) return [stands(joint), ...outcome(joint)].join(' · ');
  return [said('kind', joint.kind), ...past(joint)].join(' · ');
}

/** What this round saw, or what became of the leak that it saw. */
function stands(joint: RoundJoint): string {
  return joint.state && joint.mark === 'ring' ? said('state', joint.state) : said('mark', joint.mark);
}

function outcome(joint: RoundJoint): string[] {
  if (joint.figure && joint.mark === 'ring') return [];
  if (joint.figure) return [`${num(joint.figure.median)} ${said('unit', joint.figure.unit)}`];
  if (joint.why) return [said('why', joint.why)];
  return joint.mark === 'ring' && joint.seconds ? [t('look.seconds', { seconds: Math.round(joint.seconds) })] : [];
}

function past(joint: RoundJoint): string[] {
  const harmless = joint.before === 'ring' || joint.before === 'blank';
  return harmless ? [] : [t('look.before', { mark: said('mark', joint.before) })];
}
