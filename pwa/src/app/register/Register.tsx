import { useLocation, useRoute } from 'preact-iso';
import { useEffect, useRef } from 'preact/hooks';
import { status, useAsk } from '../../engine/client';
import type { Site } from '../../engine/types';
import { grouped } from '../../scan/code';
import { Button, Choice, Field, Page } from '../../ui';
import { t } from '../../words';
import { records } from '../duty';
import { useSaving } from '../save';
import { useDraft } from '../useDraft';
import './register.css';

/** What was said of the fixture to be; an empty site is still to be chosen. */
interface Said {
  name: string;
  place: string;
  site: string;
}

/** /new/:code: the first scan of a blank tag: name, place and site, without a network; then on to its joints. */
export function Register() {
  const code = useRoute().params.code ?? '';
  const { route } = useLocation();
  const tag = useAsk('tag', { text: code }).answer;
  const sites = (status.value.me?.sites ?? []).filter(({ id }) => records(id));
  const { value, set, clear } = useDraft<Said>(`new/${code}`, () => ({ name: '', place: '', site: '' }));
  const { problem, save } = useSaving();
  const found = tag?.fixture;
  const own = useRef(false); // it is this page that registers it, and that goes on to its joints
  useEffect(() => {
    if (found && !own.current) route(`/f/${found}`, true); // another phone was first, and this one has heard of it
  }, [found]);
  const site = sites.length === 1 ? sites[0]?.id : value?.site;
  const go = async () => {
    if (value === null || !site || !tag?.code) return;
    const body = { name: value.name.trim(), place: value.place.trim(), tag: tag.code };
    own.current = true;
    const written = await save([{ kind: 'fixture-registered', site, body }]);
    own.current = written !== null;
    if (written?.[0] === undefined) return;
    clear();
    route(`/f/${written[0].fixture}/joints`, true);
  };
  const ready = value !== null && value.name.trim() !== '' && Boolean(site) && tag?.problem === 'tag-unknown';
  const act = <Button kind="main" disabled={!ready} onPress={() => void go()}>{t('register.go')}</Button>;
  return (
    <Page title={t('register.title')} back="/scan" act={sites.length > 0 ? act : null}>
      <p class="tag-code">{grouped(code)}</p>
      {tag && tag.problem !== 'tag-unknown' && !found && <p class="wrong" role="alert">{t('register.no-tag')}</p>}
      {tag && sites.length === 0 && <p class="wrong" role="alert">{t('register.not-allowed')}</p>}
      {value !== null && sites.length > 0 && <Form said={value} sites={sites} set={set} />}
      {problem !== null && <p class="wrong" role="alert">{problem}</p>}
    </Page>
  );
}

function Form({ said, sites, set }: { said: Said; sites: readonly Site[]; set: (said: Said) => void }) {
  return (
    <section class="register">
      <Field label={t('newFixture.name')} value={said.name} onInput={(name) => set({ ...said, name })} />
      <Field label={t('newFixture.place')} hint={t('newFixture.place-hint')} value={said.place} onInput={(place) => set({ ...said, place })} />
      {sites.length > 1 && (
        <Choice
          legend={t('register.site')}
          layout="two"
          options={sites.map(({ id, name }) => ({ value: id, words: name }))}
          value={said.site || null}
          onChoose={(site) => set({ ...said, site })}
        />
      )}
    </section>
  );
}
