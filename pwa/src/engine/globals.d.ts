/** What workers have and TypeScript's DOM types lack. */

interface FileSystemSyncAccessHandle {
  close(): void;
  flush(): void;
  getSize(): number;
  read(into: Uint8Array<ArrayBuffer>, where: { at: number }): number;
  truncate(size: number): void;
  write(bytes: Uint8Array<ArrayBuffer>, where: { at: number }): number;
}

interface FileSystemFileHandle {
  createSyncAccessHandle?(): Promise<FileSystemSyncAccessHandle>;
}

/** The revision that the app was built from: set by vite.config.ts. */
declare const APP_VERSION: string;

/** Defined by Go's wasm_exec.js. */
declare class Go {
  importObject: WebAssembly.Imports;
  exit: (code: number) => void;
  run(instance: WebAssembly.Instance): Promise<void>;
}

/** Set by pwa/core once its main runs. Texts are JSON. */
declare var jointwalk:
  | {
      open(slots: { name: string; handle: FileSystemSyncAccessHandle | null; fresh: boolean }[], app: string): string;
      call(name: string, args: string): string;
      keepPicture(bytes: Uint8Array): string;
      picture(hash: string): Uint8Array | null;
      next(): { method: string; path: string; type: string; clock: string; body: Uint8Array } | null;
      took(status: number, body: Uint8Array): string;
    }
  | undefined;
