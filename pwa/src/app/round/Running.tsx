import { status } from '../../engine/client';
import type { Fixture, OpenRound } from '../../engine/types';
import { Button } from '../../ui';
import { t } from '../../words';
import { records } from '../duty';
import { nameOf, timeOf } from '../stamp';
import './round.css';

/** The round to go on with: one's own, or else the only one; which of several is for a person to say. */
export function mineFirst(running: readonly OpenRound[]): OpenRound | undefined {
  return running.find(isMine) ?? (running.length === 1 ? running[0] : undefined);
}

function isMine({ started }: OpenRound): boolean {
  return started.by === status.value.me?.person.id;
}

/** The rounds that run at a fixture, where it is not just one's own of today: who has each, how far it is, and whether it was left. */
export function Running({ fixture }: { fixture: Fixture }) {
  const running = fixture.running ?? [];
  if (running.length === 0) return null;
  const mine = running.some(isMine);
  if (mine && running.length === 1 && running[0]?.left === undefined) return null;
  return (
    <section class="notice">
      <p class="strong">{t('running.both', { n: running.length })}</p>
      {running.map((round) => (
        <One key={round.id} round={round} only={running.length === 1} />
      ))}
      {!mine && running.length === 1 && records(fixture.site) && (
        <Button kind="plain" href={`/f/${fixture.id}/round`}>
          {t('running.own')}
        </Button>
      )}
    </section>
  );
}

function One({ round, only }: { round: OpenRound; only: boolean }) {
  const { id, started, done, all, left } = round;
  return (
    <div>
      <p>{t('running.one', { person: nameOf(started), time: timeOf(started), done, all })}</p>
      {left && <p>{t('running.left', { time: timeOf(left) })}</p>}
      {!only && (
        <Button kind="quiet" href={`/r/${id}`}>
          {t('running.go')}
        </Button>
      )}
      {left && (
        <Button kind="quiet" href={`/r/${id}/end`}>
          {t('running.close')}
        </Button>
      )}
    </div>
  );
}
