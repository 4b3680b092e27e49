/** Files handed to a person: by the share sheet where there is one, else as a download. */

/** Gives a file. */
export async function give(file: File): Promise<void> {
  if (!(await shared(file))) download(file);
}

/** Whether the share sheet took it; false where there is none, or it would not. */
async function shared(file: File): Promise<boolean> {
  const sheet = { files: [file] };
  if (!navigator.canShare?.(sheet)) return false;
  return navigator.share(sheet).then(
    () => true,
    () => false,
  );
}

function download(file: File): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
