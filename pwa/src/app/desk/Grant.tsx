import { useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Choice } from '../../ui';
import { said, t } from '../../words';
import { duties, type Duty } from './people';
import { Several } from './Several';

/** What somebody does and where, as it is being chosen. */
export interface Granted {
  duties: readonly Duty[];
  /** Ids, or "*" alone for all. */
  sites: readonly string[];
}

interface Props {
  granted: Granted;
  onChange: (granted: Granted) => void;
}

/** Choosing what somebody does and where. */
export function Grant({ granted, onChange }: Props) {
  const [chosen, setChosen] = useState(granted.sites.filter((site) => site !== '*'));
  const sites = status.value.me?.sites ?? [];
  const where = granted.sites.includes('*') ? 'all' : 'some';
  const choose = (some: readonly string[]) => {
    setChosen([...some]);
    onChange({ ...granted, sites: some });
  };
  return (
    <>
      <Several
        legend={t('people.duties')}
        options={duties.map((value) => ({ value, words: said('duty', value) }))}
        chosen={granted.duties}
        onChoose={(does: readonly Duty[]) => onChange({ ...granted, duties: does })}
      />
      <Choice
        legend={t('people.sites')}
        options={(['all', 'some'] as const).map((value) => ({ value, words: t(`people.sites-${value}`) }))}
        value={where}
        onChoose={(all) => onChange({ ...granted, sites: all === 'all' ? ['*'] : chosen })}
      />
      {where === 'some' && (
        <Several
          legend={t('sites.title')}
          options={sites.map((site) => ({ value: site.id, words: site.name }))}
          chosen={chosen}
          onChoose={choose}
        />
      )}
    </>
  );
}

/** What is lacking, in words; '' for nothing. */
export function lacking({ duties, sites }: Granted): string {
  if (duties.length === 0) return t('people.no-duty');
  return sites.length === 0 ? t('people.no-site') : '';
}
