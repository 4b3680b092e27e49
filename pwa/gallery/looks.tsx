import { JointRow } from '../src/app/look/JointRow';
import '../src/app/look/look.css';
import { Showing } from '../src/app/look/Showing';
import type { RoundJoint } from '../src/engine/types';
import { figure, joint, watch } from './samples';
import { type Exhibit, nothing } from './Shelf';

interface State {
  lit?: boolean;
  bubbling?: boolean;
  running?: boolean;
}

function row(name: string, more: Partial<RoundJoint>, { lit = false, bubbling = false, running = false }: State = {}): Exhibit {
  const shown = (
    <ol class={running ? 'rows running' : 'rows'}>
      <JointRow joint={joint({ id: name.replaceAll(/\W/g, '-'), ...more })} lit={lit} bubbling={bubbling} running={running} onPress={nothing} onMore={nothing} />
    </ol>
  );
  return { name: `row, ${name}`, shown };
}

const rows: Exhibit[] = [
  row('not looked at', {}),
  row('leaked last time', { before: 'drop' }),
  row('in the group', { before: 'drop' }, { lit: true }),
  row('watched', {}, { lit: true, running: true }),
  row('bubbles', {}, { lit: true, bubbling: true, running: true }),
  row('not in the running group', {}, { running: true }),
  row('nothing seen', { mark: 'ring', seconds: 32 }),
  row('seen partly', { mark: 'half' }),
  row('leaks, sized', { mark: 'drop', finding: 'f', state: 'open', figure }),
  row('gross, heard', { mark: 'burst', finding: 'f', state: 'open', sign: 'heard' }),
  row('not reached', { mark: 'dash', why: 'guarded' }),
  row('waits for its second look', { mark: 'waiting', finding: 'f', state: 'waiting', figure }),
  row('mended on the spot', { mark: 'ring', finding: 'f', state: 'on-spot', figure }),
];

/** A clock that was started so many seconds ago. */
function clock(seconds: number): number {
  return Date.now() - seconds * 1000;
}

/** The group look. */
export const looks: Exhibit[] = [
  ...rows,
  { name: 'clock, just started', shown: <div class="watch"><Showing since={clock(0)} watch={watch} /></div> },
  { name: 'clock, not enough yet', shown: <div class="watch"><Showing since={clock(12)} watch={watch} /></div> },
  { name: 'clock, enough', shown: <div class="watch"><Showing since={clock(3600)} watch={watch} /></div> },
  { name: 'clock, no limit given', shown: <div class="watch"><Showing since={clock(12)} watch={{ ...watch, enough: 0, steps: [{ seconds: 2, high: '0.0216', all: '0.0216' }] }} /></div> },
  { name: 'clock, bubbles cannot show it', shown: <div class="watch"><Showing since={clock(12)} watch={{ ...watch, enough: 0, cannot: 'bubbles-cannot-show' }} /></div> },
  { name: 'clock, none on the test side', shown: <div class="watch"><Showing since={clock(12)} watch={{ ...watch, counted: 0, steps: [] }} /></div> },
];
