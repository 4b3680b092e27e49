import { signal } from '@preact/signals';
import { ErrorBoundary, lazy, LocationProvider, Route, Router } from 'preact-iso';
import { clearing, status } from '../engine/client';
import { note } from '../engine/errors';
import { Button, Page } from '../ui';
import { dress } from '../ui/theme';
import { preferred, speak, t } from '../words';
import { Clearing } from './Clearing';
import { Elsewhere } from './Elsewhere';
import { Home } from './home/Home';

const Scan = lazy(() => import('../scan/Scan').then((m) => m.Scan));
const TagLink = lazy(() => import('../scan/TagLink').then((m) => m.TagLink));
const FixturePage = lazy(() => import('./fixture/Fixture').then((m) => m.FixturePage));
const FixtureEdit = lazy(() => import('./desk/FixtureEdit').then((m) => m.FixtureEdit));
const Pins = lazy(() => import('./pins/Pins').then((m) => m.Pins));
const Register = lazy(() => import('./register/Register').then((m) => m.Register));
const QuickJoints = lazy(() => import('./register/QuickJoints').then((m) => m.QuickJoints));
const ProgramPage = lazy(() => import('./register/ProgramPage').then((m) => m.ProgramPage));
const RoundStart = lazy(() => import('./round/RoundStart').then((m) => m.RoundStart));
const GroupLook = lazy(() => import('./look/GroupLook').then((m) => m.GroupLook));
const Leak = lazy(() => import('./leak/Leak').then((m) => m.Leak));
const RoundEnd = lazy(() => import('./end/RoundEnd').then((m) => m.RoundEnd));
const Findings = lazy(() => import('./finding/Findings').then((m) => m.Findings));
const Finding = lazy(() => import('./finding/Finding').then((m) => m.Finding));
const Measure = lazy(() => import('./measure/Measure').then((m) => m.Measure));
const Asides = lazy(() => import('./aside/Asides').then((m) => m.Asides));
const Upkeep = lazy(() => import('./desk/Upkeep').then((m) => m.Upkeep));
const Closed = lazy(() => import('./Closed').then((m) => m.Closed));
const Conflicts = lazy(() => import('./conflict/Conflicts').then((m) => m.Conflicts));
const People = lazy(() => import('./desk/People').then((m) => m.People));
const Sites = lazy(() => import('./desk/Sites').then((m) => m.Sites));
const Phone = lazy(() => import('./phone/Phone').then((m) => m.Phone));
const Screen = lazy(() => import('./screen/Screen').then((m) => m.Screen));
const Who = lazy(() => import('./mates/Who').then((m) => m.Who));
const Help = lazy(() => import('./help/Help').then((m) => m.Help));
const Report = lazy(() => import('./report/Report').then((m) => m.Report));
const Setup = lazy(() => import('./start/Setup').then((m) => m.Setup));
const Join = lazy(() => import('./start/Join').then((m) => m.Join));

/** Whether the words of this device's language are there. */
const spoken = signal(false);

dress();
void speak(preferred()).then(() => (spoken.value = true));

/** Whether a screen stopped working; loading the page again begins anew, from what was saved. */
const broken = signal(false);

function stopped(cause: unknown): void {
  console.error(cause);
  note(cause);
  broken.value = true;
}

/** The app: all screens and their paths. Only the first one is in the first load. */
export function App() {
  if (!spoken.value) return null;
  if (broken.value) return <Broken />;
  if (clearing.value) return <Clearing />;
  if (status.value.storage === 'elsewhere') return <Elsewhere />;
  return (
    <LocationProvider>
      <ErrorBoundary onError={stopped}>
        <Screens />
      </ErrorBoundary>
    </LocationProvider>
  );
}

/** The screens of this device; of one that was shut out, those that still make sense. */
function Screens() {
  if (status.value.revoked) {
    return (
      <Router>
        <Route path="/phone" component={Phone} />
        <Route path="/report" component={Report} />
        <Route path="/join" component={Join} />
        <Route default component={Closed} />
      </Router>
    );
  }
  return (
    <Router>
      <Route path="/" component={Home} />
      <Route path="/scan" component={Scan} />
      <Route path="/t/:code" component={TagLink} />
      <Route path="/T/:code" component={TagLink} />
      <Route path="/new/:code" component={Register} />
      <Route path="/f/:id/joints" component={QuickJoints} />
      <Route path="/f/:id/program" component={ProgramPage} />
      <Route path="/f/:id" component={FixturePage} />
      <Route path="/f/:id/edit" component={FixtureEdit} />
      <Route path="/f/:id/pins" component={Pins} />
      <Route path="/f/:id/round" component={RoundStart} />
      <Route path="/r/:id" component={GroupLook} />
      <Route path="/r/:id/leak/:joint" component={Leak} />
      <Route path="/r/:id/end" component={RoundEnd} />
      <Route path="/findings" component={Findings} />
      <Route path="/finding/:id" component={Finding} />
      <Route path="/finding/:id/measure/:hash" component={Measure} />
      <Route path="/conflicts" component={Conflicts} />
      <Route path="/asides" component={Asides} />
      <Route path="/upkeep" component={Upkeep} />
      <Route path="/people" component={People} />
      <Route path="/sites" component={Sites} />
      <Route path="/phone" component={Phone} />
      <Route path="/help" component={Help} />
      <Route path="/help/:topic" component={Help} />
      <Route path="/report" component={Report} />
      <Route path="/screen" component={Screen} />
      <Route path="/who" component={Who} />
      <Route path="/setup" component={Setup} />
      <Route path="/join" component={Join} />
      <Route default component={Missing} />
    </Router>
  );
}

function Broken() {
  const again = (
    <Button kind="main" onPress={() => location.reload()}>
      {t('retry')}
    </Button>
  );
  return (
    <Page title={t('fault.title')} act={again}>
      <p role="alert">{t('fault.screen')}</p>
    </Page>
  );
}

function Missing() {
  const home = (
    <Button kind="main" href="/">
      {t('home')}
    </Button>
  );
  return (
    <Page title={t('fault.title')} act={home}>
      <p>{t('page.missing')}</p>
    </Page>
  );
}
