import { useState } from 'preact/hooks';
import { status, useAsk } from '../../engine/client';
import type { FixtureCard, Site } from '../../engine/types';
import { Button, MarkShape, Page, Says } from '../../ui';
import { t } from '../../words';
import './desk.css';
import { supervises, supervisesAll } from '../duty';
import { BlankLabels } from './BlankLabels';
import { NewFixture } from './NewFixture';
import { SiteForm } from './SiteForm';

/** What is open on top of the list. */
type Open = { what: 'add' | 'blank' } | { what: 'rename'; site: Site } | { what: 'fixture'; site: Site } | null;

/** /sites: sites with their fixtures; add and rename sites, begin fixtures. */
export function Sites() {
  const [open, setOpen] = useState<Open>(null);
  const { answer } = useAsk('home', {});
  const sites = status.value.me?.sites ?? [];
  const close = () => setOpen(null);
  const act = (
    <Button kind="main" onPress={() => setOpen({ what: 'add' })}>
      {t('sites.add')}
    </Button>
  );
  if (status.value.storage === 'starting') return <Page title={t('sites.title')} back="/"><p>{t('loading')}</p></Page>;
  const somewhere = sites.some(({ id }) => supervises(id));
  return (
    <Page title={t('sites.title')} back="/" act={supervisesAll() ? act : null}>
      <p class="strong">{sites.length === 0 ? t('sites.none') : t('sites.lead', { n: sites.length })}</p>
      {sites.map((site) => (
        <SiteSection
          key={site.id}
          site={site}
          fixtures={answer?.sites.find((one) => one.id === site.id)?.fixtures ?? []}
          onOpen={setOpen}
        />
      ))}
      {somewhere && <Button onPress={() => setOpen({ what: 'blank' })}>{t('blank.title')}</Button>}
      {open?.what === 'blank' && <BlankLabels onClose={close} />}
      {open?.what === 'add' && <SiteForm onDone={close} />}
      {open?.what === 'rename' && <SiteForm site={open.site} onDone={close} />}
      {open?.what === 'fixture' && <NewFixture site={open.site} onClose={close} />}
    </Page>
  );
}

interface SectionProps {
  site: Site;
  fixtures: readonly FixtureCard[];
  onOpen: (open: Open) => void;
}

function SiteSection({ site, fixtures, onOpen }: SectionProps) {
  return (
    <section class="desk-site">
      <div class="desk-site-head">
        <div>
          <h2>{site.name}</h2>
          <p class="small soft">{[site.place, t('sites.fixtures', { n: fixtures.length })].filter(Boolean).join(' · ')}</p>
        </div>
        {supervises(site.id) && (
          <>
            <Button kind="quiet" label={t('sites.rename-of', { name: site.name })} onPress={() => onOpen({ what: 'rename', site })}>
              {t('sites.rename')}
            </Button>
            <Button label={t('sites.new-fixture-at', { name: site.name })} onPress={() => onOpen({ what: 'fixture', site })}>
              {t('sites.new-fixture')}
            </Button>
          </>
        )}
      </div>
      <ul class="desk-rows">
        {fixtures.map((fixture) => (
          <FixtureLine key={fixture.id} fixture={fixture} edits={supervises(site.id)} />
        ))}
      </ul>
    </section>
  );
}

function FixtureLine({ fixture, edits }: { fixture: FixtureCard; edits: boolean }) {
  return (
    <li class="desk-fixture">
      <MarkShape mark={fixture.mark} />
      <a href={`/f/${fixture.id}`}>
        <span class="strong">{fixture.name}</span>
        <span class="small soft">{fixture.place}</span>
      </a>
      <span class="small">
        <Says says={fixture.says} />
      </span>
      {edits && (
        <Button kind="plain" href={`/f/${fixture.id}/edit`} label={t('sites.edit-of', { name: fixture.name })}>
          {t('joints.edit')}
        </Button>
      )}
    </li>
  );
}
