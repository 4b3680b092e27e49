/** The live picture of a screen that scans: opened with the screen, closed with it. */
import type { RefObject } from 'preact';
import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { CameraFault, type CameraTrouble, close, hasLamp, light, middle, nearer, open } from './camera';
import type { Source } from './reader';
import { watch } from './watch';

/** What the live picture is at: "reader" means that the decoder did not start. */
export type Eyesight = 'starting' | 'live' | 'reader' | CameraTrouble;

/** How near a picture is. */
export interface Near {
  times: number;
  cut: boolean;
}

/** What a screen sees of the camera. */
export interface Camera {
  video: RefObject<HTMLVideoElement | null>;
  sight: Eyesight;
  /** Whether the lamp is on; null where there is none. */
  lamp: boolean | null;
  switchLamp: () => void;
  /** How many times nearer the picture is, and whether it is cut for that, since the camera cannot do it. */
  near: Near;
  comeNear: (times: number) => void;
  again: () => void;
}

/** Open the camera while the screen stands, and call `onText` with each code that is read. */
export function useCamera(onText: (text: string) => void): Camera {
  const video = useRef<HTMLVideoElement>(null);
  const stream = useRef<MediaStream | null>(null);
  const told = useRef(onText);
  told.current = onText;
  const [sight, setSight] = useState<Eyesight>('starting');
  const [lamp, setLamp] = useState<boolean | null>(null);
  const [near, setNear] = useState<Near>({ times: 1, cut: false });
  const [turn, setTurn] = useState(0);
  const cut = useRef(1);
  cut.current = near.cut ? near.times : 1;

  useEffect(() => {
    const stop = new AbortController();
    void look(video, cut, stream, stop.signal, (text) => told.current(text), setSight, setLamp);
    return () => {
      stop.abort();
      if (stream.current !== null) close(stream.current);
      stream.current = null;
    };
  }, [turn]);

  const switchLamp = useCallback(() => {
    if (stream.current === null || lamp === null) return;
    void light(stream.current, !lamp).then((did) => setLamp(did ? !lamp : null));
  }, [lamp]);
  const comeNear = useCallback((times: number) => {
    if (stream.current !== null) void nearer(stream.current, times).then((did) => setNear({ times, cut: !did && times > 1 }));
  }, []);
  const again = useCallback(() => {
    setSight('starting');
    setNear({ times: 1, cut: false });
    setTurn((n) => n + 1);
  }, []);
  return { video, sight, lamp, switchLamp, near, comeNear, again };
}

async function look(
  video: RefObject<HTMLVideoElement | null>,
  cut: { current: number },
  held: { current: MediaStream | null },
  signal: AbortSignal,
  onText: (text: string) => void,
  setSight: (sight: Eyesight) => void,
  setLamp: (lamp: boolean | null) => void,
): Promise<void> {
  try {
    const [stream, reader] = await Promise.all([open(navigator.mediaDevices), import('./reader').catch(() => null)]);
    if (signal.aborted) return close(stream);
    held.current = stream;
    if (reader === null) return setSight('reader');
    setLamp(hasLamp(stream) ? false : null);
    setSight('live');
    await show(video.current, stream);
    await watch(eyeOf(video, cut, reader.read), signal, onText, () => setSight('reader'));
  } catch (fault) {
    if (!signal.aborted) setSight(fault instanceof CameraFault ? fault.trouble : 'none');
  }
}

/** Play a stream. A browser that wants a touch first still shows the first frame. */
async function show(video: HTMLVideoElement | null, stream: MediaStream): Promise<void> {
  if (video === null) return;
  video.srcObject = stream;
  await video.play().catch(() => undefined);
}

function eyeOf(video: RefObject<HTMLVideoElement | null>, cut: { current: number }, read: (source: Source) => Promise<string[]>) {
  const canvas = document.createElement('canvas');
  return {
    ready: () => (video.current?.readyState ?? 0) >= HTMLMediaElement.HAVE_CURRENT_DATA,
    read: () => (video.current === null ? Promise.resolve([]) : read(cutOut(video.current, cut.current, canvas))),
    wait: (ms: number) => new Promise<void>((done) => setTimeout(done, ms)),
  };
}

/** The middle of what a camera sees, drawn as large as the whole: its modules are more pixels wide then. */
function cutOut(video: HTMLVideoElement, times: number, canvas: HTMLCanvasElement): Source {
  if (times === 1) return video;
  [canvas.width, canvas.height] = [video.videoWidth, video.videoHeight];
  canvas.getContext('2d')?.drawImage(video, ...middle(canvas.width, canvas.height, times), 0, 0, canvas.width, canvas.height);
  return canvas;
}
