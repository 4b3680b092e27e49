/** Spanish words of what takes long: how far it is, and what stopping means. */
export const going = {
  'going.send': 'Enviando registros: {done} de {of}',
  'going.fetch': 'Trayendo registros: {done} de {of}',
  'going.pictures': 'Enviando fotos: {done} de {of}',
  'going.photos': 'Trayendo fotos de utillajes: {done} de {of}',
  'going-far.fetch': 'Trayendo registros: {done} hasta ahora',
  'going.asking': 'Preguntando al servidor',
  'going.paused': 'Detenido. Lo que llegó se queda, y lo que usted anote se sigue enviando. «Sincronizar ahora» continúa donde quedó.',
  'chip.paused': 'Recepción detenida',
  'older.so-far': { one: 'Trayendo rondas anteriores: {n} registro hasta ahora', other: 'Trayendo rondas anteriores: {n} registros hasta ahora' },
  'older.stopped': 'Detenido. No llegó ninguna ronda anterior; aquí no cambió nada.',
  'going.clearing': 'Quitando todos los registros de este dispositivo',
  'clearing.title': 'Salida',
  'clearing.why': 'Esto no se puede detener: el servidor ya no conoce este dispositivo, y la mitad de los registros quedaría para quien lo encuentre. Si la aplicación se cierra ahora, continúa al abrirla otra vez.',
};
