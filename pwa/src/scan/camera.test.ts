import { describe, expect, it } from 'vitest';
import { CameraFault, close, hasLamp, light, middle, nearer, open, troubleOf } from './camera';

function named(name: string): Error {
  return Object.assign(new Error(name), { name });
}

/** A stream with one track, as much of it as the camera uses. */
function stream(track: Partial<MediaStreamTrack>): MediaStream {
  return { getTracks: () => [track], getVideoTracks: () => [track] } as unknown as MediaStream;
}

describe('the camera', () => {
  it('is hidden by the browser on a connection that is not trusted', async () => {
    await expect(open(undefined)).rejects.toMatchObject({ trouble: 'insecure' });
  });

  it('says what a refusal means', async () => {
    const troubles = { NotAllowedError: 'refused', SecurityError: 'refused', NotReadableError: 'busy', AbortError: 'busy', NotFoundError: 'none', OverconstrainedError: 'none' };
    for (const [name, trouble] of Object.entries(troubles)) expect(troubleOf(named(name))).toBe(trouble);
    const devices = { getUserMedia: () => Promise.reject(named('NotAllowedError')) } as unknown as MediaDevices;
    await expect(open(devices)).rejects.toBeInstanceOf(CameraFault);
  });

  it('asks for the camera that looks away, and for no sound', async () => {
    const asked: (MediaStreamConstraints | undefined)[] = [];
    const devices = {
      getUserMedia: (wish?: MediaStreamConstraints) => {
        asked.push(wish);
        return Promise.resolve(stream({}));
      },
    } as unknown as MediaDevices;
    await open(devices);
    expect(asked[0]).toMatchObject({ audio: false, video: { facingMode: { ideal: 'environment' } } });
  });

  it('stops every track when it is closed', () => {
    let stopped = 0;
    close(stream({ stop: () => void stopped++ }));
    expect(stopped).toBe(1);
  });

  it('comes nearer by itself where it can, counted from its own least value', async () => {
    const wished: unknown[] = [];
    const track = (zoom?: { min: number; max: number }, broken = false) =>
      stream({
        getCapabilities: () => ({ zoom }) as MediaTrackCapabilities,
        applyConstraints: (wish) => (broken ? Promise.reject(named('OverconstrainedError')) : (wished.push(wish), Promise.resolve())),
      });
    expect(await nearer(track({ min: 1, max: 8 }), 2)).toBe(true);
    expect(await nearer(track({ min: 100, max: 400 }), 2)).toBe(true);
    expect(await nearer(track({ min: 100, max: 400 }), 1)).toBe(true);
    expect(wished).toEqual([2, 200, 100].map((zoom) => ({ advanced: [{ zoom }] })));
    expect(await nearer(track({ min: 1, max: 1.5 }), 2)).toBe(false);
    expect(await nearer(track({ min: 0, max: 8 }), 2)).toBe(false);
    expect(await nearer(track(), 2)).toBe(false);
    expect(await nearer(track({ min: 1, max: 8 }, true), 2)).toBe(false);
    expect(await nearer(stream({}), 2)).toBe(false);
    expect(wished).toHaveLength(3);
  });

  it('else the middle is cut out', () => {
    expect(middle(1280, 720, 2)).toEqual([320, 180, 640, 360]);
    expect(middle(1280, 720, 1)).toEqual([0, 0, 1280, 720]);
  });

  it('has a lamp only where the track says so, and survives one that refuses', async () => {
    expect(hasLamp(stream({}))).toBe(false);
    expect(hasLamp(stream({ getCapabilities: () => ({ torch: true }) as MediaTrackCapabilities }))).toBe(true);
    expect(await light(stream({ applyConstraints: () => Promise.resolve() }), true)).toBe(true);
    expect(await light(stream({ applyConstraints: () => Promise.reject(named('NotSupportedError')) }), true)).toBe(false);
  });
});
