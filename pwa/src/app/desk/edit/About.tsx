import { useState } from 'preact/hooks';
import type { Fixture } from '../../../engine/types';
import { Button, Field } from '../../../ui';
import { t } from '../../../words';
import { useSaving } from '../../save';

/** Name, place and note of a fixture; what is typed stands, whatever comes in meanwhile. */
export function About({ fixture }: { fixture: Fixture }) {
  const [typed, setTyped] = useState<Partial<Pick<Fixture, 'name' | 'place' | 'note'>>>({});
  const { name, place, note } = { ...fixture, ...typed };
  const { problem, save } = useSaving();
  const edit = {
    ...(name.trim() !== fixture.name && { name: name.trim() }),
    ...(place.trim() !== fixture.place && { place: place.trim() }),
    ...(note.trim() !== fixture.note && { note: note.trim() }),
  };
  const changed = Object.keys(edit).length > 0 && name.trim() !== '';
  const go = () => save([{ kind: 'fixture-edited', site: fixture.site, fixture: fixture.id, of: fixture.id, body: edit }]);
  return (
    <section class="form" aria-label={t('edit.about')}>
      <h2>{t('edit.about')}</h2>
      <Field
        label={t('newFixture.name')}
        value={name}
        onInput={(next) => setTyped({ ...typed, name: next })}
        {...(name.trim() === '' && { wrong: t('fault-field.missing') })}
      />
      <Field label={t('newFixture.place')} value={place} onInput={(next) => setTyped({ ...typed, place: next })} />
      <Field
        label={t('edit.note')}
        hint={t('edit.note-hint')}
        type="textarea"
        value={note}
        onInput={(next) => setTyped({ ...typed, note: next })}
      />
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
      <Button disabled={!changed} onPress={() => void go()}>
        {t('save')}
      </Button>
    </section>
  );
}
