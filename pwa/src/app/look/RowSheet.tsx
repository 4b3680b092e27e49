import { useLocation } from 'preact-iso';
import { type Result, type Round, type RoundJoint, vocabulary } from '../../engine/types';
import { Button, Caution, Choice, MarkShape, Sheet } from '../../ui';
import { said, t } from '../../words';
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
  const say = (result: Result, why?: string) => {
    onClose();
    void group.record(joint.id, result, why);
  };
  return (
    <Sheet title={joint.name} onClose={onClose}>
      <Way mark="drop" words={t('look.sizeIt')} onPress={() => route(`/r/${round.id}/leak/${joint.id}`)} />
      <Way mark="burst" words={t('look.gross')} onPress={() => say('gross')} />
      <Caution codes={['gross']} />
      <Way mark="half" words={t('look.partly')} onPress={() => say('partly')} />
      <Way mark="ring" words={t('look.nothing')} onPress={() => say('none')} />
      <Choice
        legend={t('look.notReached')}
        layout="two"
        slim
        options={vocabulary.whys.map((value) => ({ value, words: said('why', value) }))}
        value={null}
        onChoose={(why) => say('not-reached', why)}
      />
    </Sheet>
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
