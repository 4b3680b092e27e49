import { useLocation } from 'preact-iso';
import type { ComponentChildren } from 'preact';
import type { Look, Round, RoundJoint } from '../../engine/types';
import { Button } from '../../ui';
import { said, t } from '../../words';
import { lookAt } from '../look/group';
import { offerWithdrawal, useSaving } from '../save';
import { secondsSince } from '../useClock';
import type { Kept } from '../useDraft';
import { begunMend, looking, mendAct, type MendAct, mendBody, type MendDraft, type Order } from './mending';

interface Of {
  round: Round;
  joint: RoundJoint;
  finding: string;
  draft: Kept<MendDraft>;
  /** The repair is saved already. */
  waiting: boolean;
  /** Where to go once the second look is saved. */
  onward: string;
}

/** What can be done with a repair on the spot. */
export interface Mending {
  /** What stands at the thumb. */
  act: ComponentChildren;
  /** The repair is saved; its second look comes later. */
  later: () => void;
  /** What went wrong at the last save, in words. */
  problem: string | null;
}

/** How a second look ended. */
type Seen = Pick<Look, 'result' | 'stayed' | 'back'>;

/** Saves the repair as its second look begins or is put off, and the second look as it ends. */
export function useMending({ round, joint, finding, draft, waiting, onward }: Of): Mending {
  const { route } = useLocation();
  const { problem, save } = useSaving();
  const value = draft.value ?? begunMend();

  const mended = (when: 'on-spot' | 'later') =>
    save([{ kind: 'finding-mended', site: round.site, fixture: round.fixture, of: finding, body: mendBody(value, when) }]);

  const begin = async (order: Order) => {
    const written = waiting ? [] : await mended('on-spot');
    if (written === null) return;
    draft.set(looking(value, order, Date.now()));
    if (written.length > 0) offerWithdrawal(t('after.savedMend'), round.site, written, draft.clear);
  };

  const later = async () => {
    const written = await mended('later');
    if (written === null) return;
    draft.clear();
    offerWithdrawal(t('mend.savedLater'), round.site, written);
    route(onward);
  };

  const second = async (seen: Seen) => {
    const place = { site: round.site, fixture: round.fixture, round: round.id };
    const seconds = secondsSince(value.secondAt, Date.now());
    const written = await save([lookAt(place, { joint: joint.id, ...seen, seconds, second: finding, wetted: value.order })]);
    if (written === null) return;
    draft.clear();
    const counts = seen.result === 'leaks' || (seen.stayed && seen.back && value.order === 'after');
    offerWithdrawal(t(counts ? 'after.savedSecond' : 'mend.savedOpen'), round.site, written);
    route(onward);
  };

  return {
    act: <Act next={mendAct(value, waiting)} order={value.order} onBegin={begin} onSeen={second} />,
    later: () => void later(),
    problem,
  };
}

interface ActProps {
  next: MendAct;
  order: Order;
  onBegin: (order: Order) => Promise<void>;
  onSeen: (seen: Seen) => Promise<void>;
}

function Act({ next, order, onBegin, onSeen }: ActProps) {
  if (next === 'seen') return <Ends order={order} onSeen={onSeen} />;
  if (next === 'second') return <Starts onBegin={onBegin} />;
  return (
    <Button kind="main" disabled>
      {t(next === 'cause' ? 'after.needCause' : 'after.needAction')}
    </Button>
  );
}

/** The start asks the order of pressure and wetting: each button says one, so that none is taken for granted. */
function Starts({ onBegin }: Pick<ActProps, 'onBegin'>) {
  return (
    <>
      <div class="beside">
        {(['before', 'vented'] as const).map((order) => (
          <Button key={order} kind="quiet" onPress={() => void onBegin(order)}>
            {said('order', order)}
          </Button>
        ))}
      </div>
      <Button kind="main" onPress={() => void onBegin('after')}>
        {said('order', 'after')}
      </Button>
    </>
  );
}

/** The end asks what was seen: that it still leaks, whether the solution stayed and all around was in view stands on the buttons. */
function Ends({ order, onSeen }: Pick<ActProps, 'order' | 'onSeen'>) {
  return (
    <>
      <div class="beside">
        <Button kind="quiet" onPress={() => void onSeen({ result: 'leaks', stayed: true, back: true })}>
          {t('after.still')}
        </Button>
        <Button kind="quiet" onPress={() => void onSeen({ result: 'none', stayed: false, back: true })}>
          {t('mend.ranOff')}
        </Button>
        <Button kind="quiet" onPress={() => void onSeen({ result: 'none', stayed: true, back: false })}>
          {t('mend.notAround')}
        </Button>
      </div>
      <Button kind="main" onPress={() => void onSeen({ result: 'none', stayed: true, back: true })}>
        {t(order === 'after' ? 'mend.nothing' : 'mend.open')}
      </Button>
    </>
  );
}
