import { useEffect, useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button, Page } from '../../ui';
import { listed, said, t } from '../../words';
import './desk.css';
import { InviteForm } from './InviteForm';
import { InvitationCard } from './InvitationCard';
import { type Invitation, inviteDevice, people, type Person } from './people';
import { refusal } from './sites';
import { useDesk } from './useDesk';

/** What is shown above the list. */
type Open = { what: 'form' } | { what: 'made'; name: string; invitation: Invitation } | null;

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
    <Page title={t('people.title')} back="/" act={open?.what === 'form' || wrong !== '' ? null : act}>
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      {open?.what === 'form' && (
        <InviteForm
          onMade={(name, invitation) => setOpen({ what: 'made', name, invitation })}
          onCancel={() => setOpen(null)}
        />
      )}
      {open?.what === 'made' && <InvitationCard name={open.name} invitation={open.invitation} />}
      {all.length > 0 && <p class="strong">{t('people.lead', { n: all.length })}</p>}
      <Everybody all={all} onDevice={(person) => void device(person)} />
    </Page>
  );
}

interface Listed {
  all: readonly Person[];
  onDevice: (person: Person) => void;
}

function Everybody({ all, onDevice }: Listed) {
  const wide = useDesk();
  if (all.length === 0) return null;
  return wide ? <PeopleTable all={all} onDevice={onDevice} /> : <PeopleRows all={all} onDevice={onDevice} />;
}

function PeopleTable({ all, onDevice }: Listed) {
  return (
    <table class="table">
      <thead>
        <tr>
          <th scope="col">{t('people.name')}</th>
          <th scope="col">{t('people.duties')}</th>
          <th scope="col">{t('people.sites')}</th>
          <td />
        </tr>
      </thead>
      <tbody>
        {all.map((person) => (
          <tr key={person.id}>
            <th scope="row">
              {person.name} <Ended person={person} />
            </th>
            <td>{dutyWords(person)}</td>
            <td>{siteWords(person)}</td>
            <td>
              <Device person={person} onDevice={onDevice} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function PeopleRows({ all, onDevice }: Listed) {
  return (
    <ul class="desk-rows">
      {all.map((person) => (
        <li key={person.id} class="joint-row">
          <div>
            <p class="strong">
              {person.name} <Ended person={person} />
            </p>
            <p class="small soft">{`${dutyWords(person)} · ${siteWords(person)}`}</p>
          </div>
          <Device person={person} onDevice={onDevice} />
        </li>
      ))}
    </ul>
  );
}

/** A new phone for somebody who is here: the person stays the same. */
function Device({ person, onDevice }: { person: Person; onDevice: Listed['onDevice'] }) {
  return (
    <Button kind="plain" label={t('people.device-of', { name: person.name })} onPress={() => onDevice(person)}>
      {t('people.device')}
    </Button>
  );
}

function Ended({ person }: { person: Person }) {
  return person.ended ? <span class="small soft">{t('people.ended')}</span> : null;
}

function dutyWords({ duties }: Person): string {
  return listed(duties.map((duty) => said('duty', duty)));
}

function siteWords({ sites }: Person): string {
  if (sites.includes('*')) return t('people.sites-all');
  const known = status.value.me?.sites ?? [];
  return listed(sites.map((id) => known.find((site) => site.id === id)?.name ?? id));
}
