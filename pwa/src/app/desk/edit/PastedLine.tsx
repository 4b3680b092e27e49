import { vocabulary } from '../../../engine/types';
import { Field, Select } from '../../../ui';
import { num, said, t } from '../../../words';
import { options } from './options';
import type { Misread, PastedJoint } from './paste';

interface Props {
  joint: PastedJoint;
  onChoose: (change: Partial<PastedJoint>) => void;
}

/** One pasted line: what was understood, what was not, and the choice where one is needed. */
export function PastedLine({ joint, onChoose }: Props) {
  const wrong = new Set(joint.misread.map(({ what }) => what));
  const choice = { value: '', words: t('paste.choose') };
  return (
    <li class="pasted">
      <p>
        <span class="small soft">{t('paste.line', { n: joint.line })}</span> <span class="strong">{joint.name}</span>
      </p>
      <p class="small">
        {[joint.kind && said('kind', joint.kind), joint.circuit && said('circuit', joint.circuit), sizeOf(joint), joint.run && t('joints.on-run', { run: joint.run })]
          .filter(Boolean)
          .join(' · ')}
      </p>
      {joint.misread.filter(({ what }) => !mended(joint, what)).map(({ what, text }) => (
        <p key={what} class="wrong">
          {t(text === '' && what === 'kind' ? 'paste.wrong-no-kind' : `paste.wrong-${what}`, { name: text })}
        </p>
      ))}
      {wrong.has('name') && <Field label={t('joints.name')} value={joint.name} onInput={(name) => onChoose({ name: name.trim() })} />}
      {wrong.has('kind') && (
        <Select
          label={t('joints.kind')}
          options={[choice, ...options('kind', vocabulary.jointKinds)]}
          value={joint.kind}
          onChoose={(kind) => onChoose({ kind })}
        />
      )}
      {wrong.has('circuit') && (
        <Select
          label={t('joints.circuit')}
          options={[choice, ...options('circuit', vocabulary.circuits)]}
          value={joint.circuit}
          onChoose={(circuit) => onChoose({ circuit })}
        />
      )}
    </li>
  );
}

/** Whether what was not understood has been chosen since. */
function mended(joint: PastedJoint, what: Misread['what']): boolean {
  return (what === 'name' || what === 'kind' || what === 'circuit') && joint[what] !== '';
}

function sizeOf({ tube }: PastedJoint): string {
  return tube ? `${num(tube.value)} ${said('unit', tube.unit)}` : '';
}
