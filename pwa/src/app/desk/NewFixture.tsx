import { useLocation } from 'preact-iso';
import { useState } from 'preact/hooks';
import type { Site } from '../../engine/types';
import { Button, Field, Sheet } from '../../ui';
import { t } from '../../words';
import { useSaving } from '../save';

interface Props {
  site: Site;
  onClose: () => void;
}

/** A new fixture: name and place; its tag is minted by the engine. Then on to its program and joints. */
export function NewFixture({ site, onClose }: Props) {
  const { route } = useLocation();
  const { problem, save } = useSaving();
  const [name, setName] = useState('');
  const [place, setPlace] = useState('');
  const make = async () => {
    const body = { name: name.trim(), place: place.trim(), tag: '' };
    const written = await save([{ kind: 'fixture-registered', site: site.id, body }]);
    const fixture = written?.[0]?.fixture;
    if (fixture !== undefined) route(`/f/${fixture}/edit`);
  };
  return (
    <Sheet title={t('sites.new-fixture-at', { name: site.name })} onClose={onClose}>
      <Field label={t('newFixture.name')} value={name} onInput={setName} />
      <Field label={t('newFixture.place')} hint={t('newFixture.place-hint')} value={place} onInput={setPlace} />
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button kind="main" disabled={name.trim() === ''} onPress={() => void make()}>
        {t('newFixture.go')}
      </Button>
    </Sheet>
  );
}
