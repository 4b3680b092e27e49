/** Spanish words of the section "scan". */
import type { Catalogue } from '../catalogue';
import type { scan as english } from '../en/scan';

export const scan: Catalogue<keyof typeof english> = {
  'scan.title': 'Escanear una etiqueta',
  'scan.starting': 'Abriendo la cámara',
  'scan.aim': 'Mantén el código dentro del marco',
  'scan.live': 'Imagen en directo de la cámara',
  'scan.lamp-on': 'Encender la luz',
  'scan.lamp-off': 'Apagar la luz',
  'scan.again': 'Probar la cámara otra vez',
  'scan.picture': 'Hacer una foto',
  'scan.reading': 'Leyendo la foto',
  'scan.type': 'Escribir el código',
  'scan.code': 'Código de la etiqueta',
  'scan.code-hint': 'Once caracteres, impresos junto al código QR.',
  'scan.code-short': '{n} de 11 caracteres',
  'scan.open': 'Abrir el utillaje',
  'scan.camera': 'Usar la cámara',
  'scan.sync': 'Sincronizar ahora',
  'scan.next': 'Escanear otra',
  'scan.reads': 'Dice:',

  'scan-trouble.insecure':
    'En esta conexión el navegador oculta la cámara. Haz una foto del código o escríbelo.',
  'scan-trouble.refused':
    'Esta página no puede usar la cámara. Permítela en los ajustes del navegador para este sitio y prueba otra vez. O haz una foto del código, o escríbelo.',
  'scan-trouble.none': 'No se encontró ninguna cámara. Haz una foto del código o escríbelo.',
  'scan-trouble.busy':
    'La cámara está en uso en otro lugar. Cierra la otra aplicación y prueba otra vez. O haz una foto del código, o escríbelo.',
  'scan-trouble.reader': 'El lector de códigos no arrancó. Escribe el código impreso en la etiqueta.',
  'scan-trouble.picture':
    'No se encontró ningún código QR en esa foto. Acércate, con el código entero a la vista y sin reflejos. O escribe el código.',

  'scan-problem.tag-damaged':
    'Un carácter de {code} está mal: el último comprueba los demás y no encaja. Compáralo con la etiqueta.',
  'scan-problem.tag-foreign': 'No es una etiqueta de esta instalación, así que no se abrió nada.',
  'scan-problem.tag-unknown': '{code} es una etiqueta correcta, pero ningún utillaje de aquí la lleva.',
  'scan-do.unknown-offline':
    'Ahora no hay red, así que puede que este teléfono aún no la conozca. Ve donde haya red, sincroniza y escanea otra vez.',
  'scan-do.unknown-online':
    'Sincroniza primero. Si sigue sin conocerse, registra el utillaje en un escritorio, o pregunta si su planta es una de las tuyas.',
  'scan-do.failed': 'No se pudo buscar la etiqueta. No se ha perdido nada; prueba otra vez.',
};
