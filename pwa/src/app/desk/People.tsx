import { useEffect, useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button, Page } from '../../ui';
import { listed, said, t } from '../../words';
import { called } from '../called';
import './desk.css';
import { ChangeForm } from './ChangeForm';
import { EraseName } from './EraseName';
import { InviteForm } from './InviteForm';
import { InvitationCard } from './InvitationCard';
import { type Invitation, inviteDevice, people, type Person } from './people';
import { ShutOut } from './ShutOut';
import { refusal } from './sites';
import { useDesk } from './useDesk';

/** What is shown above the list. */
type Open = { what: 'form' } | { what: 'change' | 'shut' | 'erase'; person: Person } | { what: 'made'; name: string; invitation: Invitation } | null;

/** /people: who is here, and inviting somebody. */
export function People() {
  const [all, setAll] = useState<Person[]>([]);
  const [wrong, setWrong] = useState('');
  const [open, setOpen] = useState<Open>(null);
  useEffect(() => {
    people().then(setAll, (fault) => setWrong(refusal(fault)));
  }, [open === null]);
  const device = ({ id, name }: Person) =>
    inviteDevice(id).then((invitation) => setOpen({ what: 'made', name, invitation }), (fault) => setWrong(refusal(fault)));
  const act = (
    <Button kind="main" onPress={() => setOpen({ what: 'form' })}>
      {t(open?.what === 'made' ? 'people.again' : 'people.invite')}
    </Button>
  );
  return (
    <Page title={t('people.title')} back="/" act={open?.what === 'form' || open?.what === 'change' || wrong !== '' ? null : act}>
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      {open?.what === 'form' && (
        <InviteForm
          onMade={(name, invitation) => setOpen({ what: 'made', name, invitation })}
          onCancel={() => setOpen(null)}
        />
      )}
      {open?.what === 'change' && <ChangeForm key={open.person.id} person={open.person} onDone={() => setOpen(null)} />}
      {open?.what === 'shut' && <ShutOut person={open.person} onClose={() => setOpen(null)} />}
      {open?.what === 'erase' && <EraseName person={open.person} onClose={() => setOpen(null)} />}
      {open?.what === 'made' && <InvitationCard name={open.name} invitation={open.invitation} />}
      {all.length > 0 && <p class="strong">{t('people.lead', { n: all.filter(({ name }) => name !== '').length })}</p>}
      <Everybody all={all} onChange={(person) => setOpen({ what: 'change', person })} onDevice={(person) => void device(person)} onShut={(person) => setOpen({ what: 'shut', person })} onErase={(person) => setOpen({ what: 'erase', person })} />
    </Page>
  );
}

interface Listed {
  all: readonly Person[];
  onChange: (person: Person) => void;
  onDevice: (person: Person) => void;
  onShut: (person: Person) => void;
  onErase: (person: Person) => void;
}

function Everybody(listed: Listed) {
  const wide = useDesk();
  if (listed.all.length === 0) return null;
  return wide ? <PeopleTable {...listed} /> : <PeopleRows {...listed} />;
}

function PeopleTable({ all, ...does }: Listed) {
  return (
    <table class="table">
      <thead>
        <tr>
          <th scope="col">{t('people.name')}</th>
          <th scope="col">{t('people.grants')}</th>
          <td />
        </tr>
      </thead>
      <tbody>
        {all.map((person) => (
          <tr key={person.id}>
            <th scope="row">{called(person.id, person.name)}</th>
            <td>
              <Does person={person} />
            </td>
            <td>
              <Acts person={person} {...does} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function PeopleRows({ all, ...does }: Listed) {
  return (
    <ul class="desk-rows">
      {all.map((person) => (
        <li key={person.id} class="joint-row">
          <div>
            <p class="strong">{called(person.id, person.name)}</p>
            <div class="small soft">
              <Does person={person} />
            </div>
          </div>
          <Acts person={person} {...does} />
        </li>
      ))}
    </ul>
  );
}

/** Other duties or sites; a new phone: the person stays the same. Erasing the name; for oneself another does that. */
function Acts({ person, onChange, onDevice, onShut, onErase }: Omit<Listed, 'all'> & { person: Person }) {
  const { name } = person;
  if (name === '') return null;
  return (
    <div class="beside-each">
      <Button kind="plain" label={t('people.change-of', { name })} onPress={() => onChange(person)}>
        {t('people.change')}
      </Button>
      <Button kind="plain" label={t('people.device-of', { name })} onPress={() => onDevice(person)}>
        {t('people.device')}
      </Button>
      {person.id !== status.value.me?.person.id && (
        <>
          <Button kind="plain" label={t('people.shut-of', { name })} onPress={() => onShut(person)}>
            {t('people.shut')}
          </Button>
          <Button kind="plain" label={t('people.erase-of', { name })} onPress={() => onErase(person)}>
            {t('people.erase')}
          </Button>
        </>
      )}
    </div>
  );
}

/** What somebody does, and where: a line for each that is done at the same sites. */
function Does({ person }: { person: Person }) {
  const lines = new Map<string, string[]>();
  for (const [site, does] of Object.entries(person.grants)) {
    const words = listed(does.map((duty) => said('duty', duty)));
    lines.set(words, [...(lines.get(words) ?? []), siteName(site)]);
  }
  if (lines.size === 0) return <p>{t('people.nowhere')}</p>;
  return (
    <>
      {[...lines].map(([words, where]) => (
        <p key={words}>{`${words} · ${listed(where)}`}</p>
      ))}
    </>
  );
}

function siteName(site: string): string {
  if (site === '*') return t('people.sites-all');
  return status.value.me?.sites.find(({ id }) => id === site)?.name ?? t('people.site-elsewhere');
}
