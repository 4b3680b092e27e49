import { useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button, Choice, Field } from '../../ui';
import { said, t } from '../../words';
import { duties, type Duty, type Invitation, invite } from './people';
import { Several } from './Several';
import { refusal } from './sites';

interface Props {
  onMade: (name: string, invitation: Invitation) => void;
  onCancel: () => void;
}

/** Whom to invite: name, what they do, where. */
export function InviteForm({ onMade, onCancel }: Props) {
  const [name, setName] = useState('');
  const [does, setDoes] = useState<readonly Duty[]>(['technician']);
  const [where, setWhere] = useState<'all' | 'some'>('all');
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [wrong, setWrong] = useState('');
  const sites = status.value.me?.sites ?? [];
  const go = async () => {
    const lacks = lacking(name, does, where === 'some' && chosen.length === 0);
    setWrong(lacks);
    if (lacks !== '') return;
    try {
      const guest = { name: name.trim(), duties: [...does], sites: where === 'all' ? ['*'] : [...chosen] };
      onMade(guest.name, await invite(guest));
    } catch (fault) {
      setWrong(refusal(fault));
    }
  };
  return (
    <section class="form narrow" aria-label={t('people.invite')}>
      <h2>{t('people.invite')}</h2>
      <Field label={t('people.name')} value={name} onInput={setName} />
      <Several
        legend={t('people.duties')}
        options={duties.map((value) => ({ value, words: said('duty', value) }))}
        chosen={does}
        onChoose={setDoes}
      />
      <Choice
        legend={t('people.sites')}
        options={(['all', 'some'] as const).map((value) => ({ value, words: t(`people.sites-${value}`) }))}
        value={where}
        onChoose={setWhere}
      />
      {where === 'some' && (
        <Several
          legend={t('sites.title')}
          options={sites.map((site) => ({ value: site.id, words: site.name }))}
          chosen={chosen}
          onChoose={setChosen}
        />
      )}
      {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
      <div class="beside-each">
        <Button kind="main" onPress={() => void go()}>
          {t('people.make')}
        </Button>
        <Button kind="quiet" onPress={onCancel}>
          {t('cancel')}
        </Button>
      </div>
    </section>
  );
}

function lacking(name: string, does: readonly Duty[], noSite: boolean): string {
  if (name.trim() === '') return t('people.no-name');
  if (does.length === 0) return t('people.no-duty');
  return noSite ? t('people.no-site') : '';
}
