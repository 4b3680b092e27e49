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

/**
 * Bring what is seen nearer, as many times as said: by the camera itself where it can, true; false where it cannot, or not as
 * far, and the picture is to be cut. A camera counts from its own least value (W3C, MediaStream Image Capture, `zoom`).
 */
export async function nearer(stream: MediaStream, times: number): Promise<boolean> {
  const track = stream.getVideoTracks()[0];
  const can: MediaTrackCapabilities & { zoom?: { min: number; max: number } } = track?.getCapabilities?.() ?? {};
  if (track === undefined || can.zoom === undefined || !(can.zoom.min > 0) || can.zoom.max < times * can.zoom.min) return false;
  const wish: MediaTrackConstraintSet & { zoom?: number } = { zoom: times * can.zoom.min };
  try {
    await track.applyConstraints({ advanced: [wish] });
    return true;
  } catch {
    return false;
  }
}

/** The middle of a picture, `times` nearer: from where, and how much of its width and height. */
export function middle(width: number, height: number, times: number): [x: number, y: number, width: number, height: number] {
  const [w, h] = [width / times, height / times];
  return [(width - w) / 2, (height - h) / 2, w, h];
}

/** What a refusal of the browser means. */
export function troubleOf(fault: unknown): CameraTrouble {
  const name = fault instanceof Error ? fault.name : '';
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'refused';
  if (name === 'NotReadableError' || name === 'AbortError') return 'busy';
  return 'none';
}
