const most = 300; // ms: a page that nobody sees draws nothing

/** Resolves once what was changed stands on the screen, or would if somebody saw it. */
export function drawn(): Promise<void> {
  return new Promise((go) => {
    setTimeout(go, most);
    requestAnimationFrame(() => setTimeout(go));
  });
}
