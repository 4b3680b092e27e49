import { useState } from 'preact/hooks';
import type { Fixture, JointCard } from '../../../engine/types';
import { Button } from '../../../ui';
import { t } from '../../../words';
import { useSaving } from '../../save';
import { useDesk } from '../useDesk';
import { JointForm } from './JointForm';
import { JointRows } from './JointRows';
import { JointTable } from './JointTable';
import { seenOf } from './change';
import { moved } from './order';
import { PasteList } from './PasteList';

/** What a list of joints lets a person do. */
export interface JointActs {
  joints: readonly JointCard[];
  onMove: (at: number, step: -1 | 1) => void;
  onEdit: (joint: JointCard) => void;
}

/** The joints of a fixture in place order: add, paste, change, move. */
export function Joints({ fixture }: { fixture: Fixture }) {
  const [open, setOpen] = useState<JointCard | 'add' | 'paste' | null>(null);
  const { problem, save } = useSaving();
  const wide = useDesk();
  const close = () => setOpen(null);
  const { joints } = fixture;
  const onMove = (at: number, step: -1 | 1) => {
    const joint = joints[at];
    const order = moved(joints, at, step);
    if (joint === undefined || order === null) return;
    void save([
      { kind: 'joint-edited', site: fixture.site, fixture: fixture.id, of: joint.id, base: joint.event, body: { order, ...seenOf(joint) } },
    ]);
  };
  const acts: JointActs = { joints, onMove, onEdit: setOpen };
  return (
    <section class="form" aria-label={t('joints.title')}>
      <h2>{t('joints.title')}</h2>
      <p class="strong">{joints.length === 0 ? t('joints.none') : t('joints.lead', { n: joints.length })}</p>
      {wide ? <JointTable {...acts} /> : <JointRows {...acts} />}
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <div class="beside-each">
        <Button onPress={() => setOpen('add')}>{t('joints.add')}</Button>
        <Button onPress={() => setOpen('paste')}>{t('joints.paste')}</Button>
      </div>
      {open === 'add' && <JointForm fixture={fixture} onClose={close} />}
      {open === 'paste' && <PasteList fixture={fixture} onClose={close} />}
      {open !== null && typeof open === 'object' && <JointForm fixture={fixture} joint={open} onClose={close} />}
    </section>
  );
}
