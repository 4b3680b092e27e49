import { useState } from 'preact/hooks';
import type { Fixture } from '../../../engine/types';
import { Button, Field } from '../../../ui';
import { t } from '../../../words';
import { useSaving } from '../../save';

type Texts = Partial<Pick<Fixture, 'name' | 'place' | 'note'>>;

/** Name, place and note of a fixture; what is typed stands, whatever comes in meanwhile. */
export function About({ fixture }: { fixture: Fixture }) {
  const [typed, setTexts] = useState<Texts>({});
  const [from, setFrom] = useState<{ base: string; seen?: string[] } | null>(null);
  const setTyped = (texts: Texts) => {
    setTexts(texts);
    setFrom(from ?? fromNow(fixture)); // what came in after the first key was not what was changed
  };
  const { name, place, note } = { ...fixture, ...typed };
  const { problem, save } = useSaving();
  const edit = {
    ...(name.trim() !== fixture.name && { name: name.trim() }),
    ...(place.trim() !== fixture.place && { place: place.trim() }),
    ...(note.trim() !== fixture.note && { note: note.trim() }),
  };
  const changed = Object.keys(edit).length > 0 && name.trim() !== '';
  const go = async () => {
    const { base, ...seen } = from ?? fromNow(fixture);
    const written = await save([
      { kind: 'fixture-edited', site: fixture.site, fixture: fixture.id, of: fixture.id, base, body: { ...edit, ...seen } },
    ]);
    if (written?.[0] !== undefined) setFrom({ base: written[0].id });
  };
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

/** What an edit of the fixture as it stands now starts from. */
function fromNow({ base, seen }: Fixture): { base: string; seen?: string[] } {
  return seen ? { base, seen } : { base };
}
