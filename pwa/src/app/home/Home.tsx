import { lazy } from 'preact-iso';
import { isDesk } from '../../link/desk';
import { last, status, useAsk } from '../../engine/client';
import type { FixtureCard, Home as HomeAnswer, SiteCard } from '../../engine/types';
import { Button, Exchange, MarkShape, Page, Says, useGradual } from '../../ui';
import { said, t } from '../../words';
import { Answered } from '../Answered';
import { supervises } from '../duty';
import { shortLived } from '../start/install';
import './home.css';

/** Only some phones' tabs need these. */
const TabWarning = lazy(() => import('../start/Tab').then((m) => m.TabWarning));
const TabInstall = lazy(() => import('../start/Tab').then((m) => m.TabInstall));

/** Only a supervisor's desk looks after the certificate. */
const CertificateNote = lazy(() => import('../desk/Certificate').then((m) => m.CertificateNote));

/** What a device that belongs to nobody yet shows instead. */
const Start = lazy(() => import('../start/Start').then((m) => m.Start));

/** /: the sites of this person and their fixtures, each in a sentence. */
export function Home() {
  const told = useAsk('home', {});
  const early = told.answer === undefined && told.fault === undefined ? last.value : null;
  const asked = early ? { answer: early, fault: undefined } : told;
  const scan = (
    <Button kind="main" href="/scan">
      {t('home.scan')}
    </Button>
  );
  if (status.value.needsSetup || (status.value.me === null && status.value.reach !== 'unknown')) return <Start />;
  return (
    <Answered asked={asked}>
      {(home) => (
        <Page title={t('home.title')} act={scan}>
          {early && <p class="soft">{t('home.early')}</p>}
          {shortLived() && <TabWarning how="#install" />}
          {isDesk() && supervises() && <CertificateNote />}
          <Exchange />
          <Differing n={differing(home)} />
          {home.sites.length === 0 && <p>{t('home.none')}</p>}
          <Sites sites={home.sites} />
          {shortLived() && <TabInstall />}
          <Ways />
        </Page>
      )}
    </Answered>
  );
}

/** How many fields two people changed apart, all fixtures together. */
function differing({ sites }: HomeAnswer): number {
  return sites.flatMap(({ fixtures }) => fixtures).reduce((sum, { conflicts = 0 }) => sum + conflicts, 0);
}

function Differing({ n }: { n: number }) {
  if (n === 0) return null;
  return (
    <Button kind="quiet" href="/conflicts">
      {t('conflict.open', { n })}
    </Button>
  );
}

function Sites({ sites }: { sites: readonly SiteCard[] }) {
  const upTo = (n: number) => sites.slice(0, n).reduce((sum, { fixtures }) => sum + fixtures.length, 0);
  const shown = useGradual(upTo(sites.length));
  return sites.map((site, n) => <Site key={site.id} site={site} shown={Math.max(0, shown - upTo(n))} />);
}

/** A site with the first of its fixtures, as many as are shown. */
function Site({ site, shown }: { site: SiteCard; shown: number }) {
  return (
    <section class="site">
      <h2>{site.name}</h2>
      {site.fixtures.length === 0 && <p class="soft">{t('home.noFixtures')}</p>}
      <ul>
        {site.fixtures.slice(0, shown).map((fixture) => (
          <li key={fixture.id}>
            <Row fixture={fixture} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Row({ fixture }: { fixture: FixtureCard }) {
  return (
    <a class="fixture-row" href={`/f/${fixture.id}`}>
      <MarkShape mark={fixture.mark} />
      <span>
        <span class="strong">{fixture.name}</span>
        <span class="small soft place">{under(fixture)}</span>
        {fixture.waiting && (
          <span class="small strong waits">
            <MarkShape mark="waiting" />
            {t('mend.count', { n: fixture.waiting })}
          </span>
        )}
        <span class="small sentence">
          <span class="spoken">{said('mark', fixture.mark)}. </span>
          <Says says={fixture.says} />
        </span>
      </span>
    </a>
  );
}

/** Where it stands, and whether a round is running there. */
function under({ place, openRound }: FixtureCard): string {
  return [place, openRound ? t('home.running') : ''].filter((text) => text !== '').join(' · ');
}

function Ways() {
  const desk = supervises();
  return (
    <nav class="ways-on" aria-label={t('home.ways')}>
      <a href="/findings">{t('home.findings')}</a>
      {desk && <a href="/sites">{t('home.sites')}</a>}
      {desk && <a href="/people">{t('home.people')}</a>}
      {desk && <a href="/asides">{t('aside.page')}</a>}
      {desk && <a href="/upkeep">{t('upkeep.title')}</a>}
      <a href="/phone">{t('home.phone')}</a>
      <a href="/help">{t('help.title')}</a>
    </nav>
  );
}
