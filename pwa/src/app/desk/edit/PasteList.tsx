import { useMemo, useState } from 'preact/hooks';
import { type Fixture, vocabulary } from '../../../engine/types';
import { Button, Field, Sheet } from '../../../ui';
import { t } from '../../../words';
import { offerWithdrawal, useSaving } from '../../save';
import { names } from './options';
import { last } from './order';
import { type PastedJoint, parse } from './paste';
import { PastedLine } from './PastedLine';
import { runsOf } from './runs';

interface Props {
  fixture: Fixture;
  onClose: () => void;
}

/** A list of joints, pasted; it shows what was understood before anything is saved. */
export function PasteList({ fixture, onClose }: Props) {
  const [text, setText] = useState('');
  const [chosen, setChosen] = useState<Record<number, Partial<PastedJoint>>>({});
  const { problem, save } = useSaving();
  const read = useMemo(
    () => parse(text, names('kind', vocabulary.jointKinds), names('circuit', vocabulary.circuits), runsOf(fixture.joints)),
    [text],
  );
  const joints = read.map((joint) => ({ ...joint, ...chosen[joint.line] }));
  const open = joints.filter((joint) => joint.name === '' || joint.kind === '' || joint.circuit === '');
  const go = async () => {
    const from = last(fixture.joints);
    const written = await save(
      joints.map(({ name, kind, circuit, tube, run }, i) => ({
        kind: 'joint-added' as const,
        site: fixture.site,
        fixture: fixture.id,
        body: { name, kind, circuit, ...(tube && { tube }), ...(run && { run }), order: from + i },
      })),
    );
    if (written === null) return;
    offerWithdrawal(t('joints.pasted', { n: written.length }), fixture.site, written);
    onClose();
  };
  const typed = (next: string) => {
    setText(next);
    setChosen({});
  };
  return (
    <Sheet title={t('joints.paste')} onClose={onClose}>
      <p>{t('paste.lead')}</p>
      <p class="sample">{t('paste.sample')}</p>
      <Field label={t('paste.label')} type="textarea" value={text} onInput={typed} />
      <h2>{t('paste.what')}</h2>
      <p role="status">{says(joints.length, open.length)}</p>
      <ul class="desk-rows">
        {joints.map((joint) => (
          <PastedLine
            key={joint.line}
            joint={joint}
            onChoose={(change) => setChosen({ ...chosen, [joint.line]: { ...chosen[joint.line], ...change } })}
          />
        ))}
      </ul>
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button kind="main" disabled={joints.length === 0 || open.length > 0} onPress={() => void go()}>
        {t('paste.save', { n: joints.length })}
      </Button>
    </Sheet>
  );
}

function says(all: number, open: number): string {
  if (all === 0) return t('paste.nothing');
  return open === 0 ? t('joints.lead', { n: all }) : t('paste.misread', { n: open });
}
