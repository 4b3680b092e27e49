/** The camera that looks away from the person: opened, lit, closed. */

/**
 * Why there is no live picture: "insecure" (the browser hides cameras from a
 * connection that it does not trust), "refused" (the person or a setting said
 * no), "none" (no camera), "busy" (something else holds it).
 */
export type CameraTrouble = 'insecure' | 'refused' | 'none' | 'busy';

/** A camera that could not be opened. */
export class CameraFault extends Error {
  constructor(readonly trouble: CameraTrouble) {
    super(`camera: ${trouble}`);
  }
}

/** Open the camera; throws CameraFault. Give the stream back with `close`. */
export async function open(devices: MediaDevices | undefined): Promise<MediaStream> {
  if (devices?.getUserMedia === undefined) throw new CameraFault('insecure');
  try {
    return await devices.getUserMedia({
      audio: false,
      video: { facingMode: { ideal: 'environment' }, width: { ideal: 1280 }, height: { ideal: 720 } },
    });
  } catch (fault) {
    throw new CameraFault(troubleOf(fault));
  }
}

/** Switch a camera off. */
export function close(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}

/** Whether this camera has a lamp that can be switched. */
export function hasLamp(stream: MediaStream): boolean {
  const track = stream.getVideoTracks()[0];
  const can: MediaTrackCapabilities & { torch?: boolean } = track?.getCapabilities?.() ?? {};
  return can.torch === true;
}

/** Switch the lamp; false when the camera would not. */
export async function light(stream: MediaStream, on: boolean): Promise<boolean> {
  const wish: MediaTrackConstraintSet & { torch?: boolean } = { torch: on };
  try {
    await stream.getVideoTracks()[0]?.applyConstraints({ advanced: [wish] });
    return true;
  } catch {
    return false;
  }
}

/** What a refusal of the browser means. */
export function troubleOf(fault: unknown): CameraTrouble {
  const name = fault instanceof Error ? fault.name : '';
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'refused';
  if (name === 'NotReadableError' || name === 'AbortError') return 'busy';
  return 'none';
}
