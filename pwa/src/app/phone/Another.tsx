import { useState } from 'preact/hooks';
import { status } from '../../engine/client';
import { Button } from '../../ui';
import { t } from '../../words';
import { InvitationCard } from '../desk/InvitationCard';
import { inviteDevice, type Invitation } from '../desk/people';
import { refusal } from '../desk/sites';

/** One more device of this person: an invitation, shown once. */
export function Another() {
  const [made, setMade] = useState<Invitation>();
  const [wrong, setWrong] = useState('');
  const { me } = status.value;
  if (!me || me.mates?.length) return null; // whoever holds a shared phone is nobody elsewhere by that
  const { id, name } = me.person;
  const make = () => inviteDevice(id).then(setMade, (fault: unknown) => setWrong(refusal(fault)));
  return (
    <details class="phone-leave">
      <summary>{t('phone.another')}</summary>
      {made ? (
        <InvitationCard name={name} invitation={made} />
      ) : (
        <div class="phone-part">
          <p>{t('phone.another-what')}</p>
          {wrong !== '' && <p class="wrong" role="alert">{wrong}</p>}
          <Button onPress={() => void make()}>{t('phone.another-go')}</Button>
        </div>
      )}
    </details>
  );
}
