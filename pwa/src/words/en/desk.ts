/** English words of the section "desk". */
export const desk = {};
