import { GroupAct, Watched } from '../src/app/look/GroupAct';
import { finished, type Group, idle, started } from '../src/app/look/group';
import '../src/app/look/look.css';
import type { GroupUse } from '../src/app/look/useGroup';
import type { Round, Watch } from '../src/engine/types';
import { joint, round, watch } from './samples';
import { type Exhibit, nothing } from './Shelf';

async function later(): Promise<void> {}

function use(value: Group): GroupUse {
  return { value, set: nothing, problem: null, start: nothing, finish: later, stop: nothing, record: later };
}

/** What stands at the thumb before a group runs, and after it. */
function act(name: string, group: Group, of: Round = round()): Exhibit {
  return { name: `group, ${name}`, shown: <footer class="act"><GroupAct round={of} group={use(group)} /></footer> };
}

/** A group whose clock runs for so many seconds, in which so many joints bubble. */
function running(name: string, seconds: number, bubbling: number, more: Partial<Group> = {}, shows: Watch | null = watch): Exhibit {
  const { joints } = round();
  const begun = started(idle(), joints, Date.now() - seconds * 1000);
  const state = { ...begun, bubbling: joints.slice(0, bubbling).map(({ id }) => id), ...more };
  return { name: `group, ${name}`, shown: <footer class="act"><Watched state={state} counted={state} watch={shows} group={use(state)} /></footer> };
}

const leaking = { ...started(idle(), round().joints, 0), bubbling: ['j1'] };
const looked = round({ done: 5, joints: round().joints.map((one) => joint({ ...one, mark: 'ring' })) });

/** What stands at the thumb of the group look. */
export const acts: Exhibit[] = [
  act('none chosen', { ...idle(), wetted: [] }),
  act('chosen', idle()),
  act('all looked at', idle(), looked),
  act('a leak waits to be sized', finished(leaking, 20)),
  running('runs, nothing bubbles', 12, 0),
  running('runs, enough, not seen all around', 3600, 0, { back: false }),
  running('runs, two bubble', 12, 2),
  running('runs, all bubble', 12, 5),
  running('runs, answer not there yet', 1, 0, {}, null),
];
