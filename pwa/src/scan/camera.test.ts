import { describe, expect, it } from 'vitest';
import { CameraFault, close, hasLamp, light, open, troubleOf } from './camera';

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

  it('has a lamp only where the track says so, and survives one that refuses', async () => {
    expect(hasLamp(stream({}))).toBe(false);
    expect(hasLamp(stream({ getCapabilities: () => ({ torch: true }) as MediaTrackCapabilities }))).toBe(true);
    expect(await light(stream({ applyConstraints: () => Promise.resolve() }), true)).toBe(true);
    expect(await light(stream({ applyConstraints: () => Promise.reject(named('NotSupportedError')) }), true)).toBe(false);
  });
});
