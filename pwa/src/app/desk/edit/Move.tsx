import { useState } from 'preact/hooks';
import { status } from '../../../engine/client';
import type { Fixture } from '../../../engine/types';
import { Button, Select } from '../../../ui';
import { t } from '../../../words';
import { useSaving } from '../../save';
import { seenOf } from './change';

/** The site that a fixture stands at, and taking it to another one: for those who work at both. */
export function Move({ fixture }: { fixture: Fixture }) {
  const [to, setTo] = useState(fixture.site);
  const { problem, save } = useSaving();
  const sites = status.value.me?.sites ?? [];
  if (sites.length < 2) return null;
  const go = () =>
    save([
      { kind: 'fixture-moved', site: fixture.site, fixture: fixture.id, of: fixture.id, base: fixture.base, body: { site: to, ...seenOf(fixture) } },
    ]);
  return (
    <section class="form" aria-label={t('move.title')}>
      <h2>{t('move.title')}</h2>
      <p>{t('move.what')}</p>
      <Select
        label={t('move.to')}
        options={sites.map(({ id, name }) => ({ value: id, words: name }))}
        value={to}
        onChoose={setTo}
      />
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button disabled={to === fixture.site} onPress={() => void go()}>
        {t('move.go')}
      </Button>
    </section>
  );
}
