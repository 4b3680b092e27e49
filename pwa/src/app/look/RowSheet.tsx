import { useLocation } from 'preact-iso';
import { type Look, type Result, type Round, type RoundJoint, vocabulary } from '../../engine/types';
import { Button, Caution, Choice, MarkShape, Sheet } from '../../ui';
import { said, t } from '../../words';
import { AddNote, NoteList } from '../notes/Notes';
import type { GroupUse } from './useGroup';

interface Props {
  joint: RoundJoint;
  round: Round;
  group: GroupUse;
  onClose: () => void;
}

/** What else can be said of one joint: leaks, gross, partly, not reached and why, nothing seen. */
export function RowSheet({ joint, round, group, onClose }: Props) {
  const { route } = useLocation();
  const say = (result: Result, more?: Partial<Look>) => {
    onClose();
    void group.record(joint.id, result, more);
  };
  return (
    <Sheet title={joint.name} onClose={onClose}>
      <Choice
        legend={t('look.gross')}
        layout="even"
        options={vocabulary.signs.map((value) => ({ value, words: <Sign words={said('sign', value)} /> }))}
        value={null}
        onChoose={(sign) => say('gross', { sign })}
      />
      <Caution codes={['gross']} />
      <Way mark="drop" words={t('look.sizeIt')} onPress={() => route(`/r/${round.id}/leak/${joint.id}`)} />
      <Way mark="half" words={t('look.afar')} onPress={() => say('partly', { sight: 'partly' })} />
      <Way mark="half" words={t('look.partly')} onPress={() => say('partly', { back: false })} />
      <Way mark="ring" words={t('look.nothing')} onPress={() => say('none')} />
      <Choice
        legend={t('look.notReached')}
        layout="two"
        slim
        options={vocabulary.whys.map((value) => ({ value, words: said('why', value) }))}
        value={null}
        onChoose={(why) => say('not-reached', { why })}
      />
      <NoteList notes={round.notes.filter(({ of }) => of === joint.id)} />
      <AddNote place={{ site: round.site, fixture: round.fixture, of: joint.id }} title={t('note.of', { name: joint.name })} />
    </Sheet>
  );
}

function Sign({ words }: { words: string }) {
  return (
    <span class="sign">
      <MarkShape mark="burst" />
      {words}
    </span>
  );
}

function Way({ mark, words, onPress }: { mark: string; words: string; onPress: () => void }) {
  return (
    <Button kind="quiet" onPress={onPress}>
      <span class="way">
        <MarkShape mark={mark} />
        {words}
      </span>
    </Button>
  );
}
