/** Spanish words of the section "scan". */
import type { Catalogue } from '../catalogue';
import type { scan as english } from '../en/scan';

export const scan: Catalogue<keyof typeof english> = {
  'scan.title': 'Leer una etiqueta',
  'scan.starting': 'Abriendo la cámara',
  'scan.aim': 'Mantenga el código dentro del marco',
  'scan.live': 'Imagen en directo de la cámara',
  'scan.lamp-on': 'Encender la luz',
  'scan.lamp-off': 'Apagar la luz',
  'scan.near': 'Cuánto acercar',
  'scan.times': '{n}×',
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
  'scan.next': 'Leer otra',
  'scan.reads': 'Dice:',

  'scan-trouble.insecure':
    'En esta conexión el navegador oculta la cámara. Haga una foto del código o escríbalo.',
  'scan-trouble.refused':
    'Esta página no puede usar la cámara. Permítala en los ajustes del navegador para este sitio y pruebe otra vez. O haga una foto del código, o escríbalo.',
  'scan-trouble.none': 'No se encontró ninguna cámara. Haga una foto del código o escríbalo.',
  'scan-trouble.busy':
    'La cámara está en uso en otro lugar. Cierre la otra aplicación y pruebe otra vez. O haga una foto del código, o escríbalo.',
  'scan-trouble.reader': 'El lector de códigos no arrancó. Escriba el código impreso en la etiqueta.',
  'scan-trouble.picture':
    'No se encontró ningún código QR en esa foto. Acérquese, con el código entero a la vista y sin reflejos. O escriba el código.',

  'scan-problem.tag-damaged':
    'Un carácter de {code} está mal: el último comprueba los demás y no encaja. Compárelo con la etiqueta.',
  'scan-problem.tag-foreign': 'No es una etiqueta de esta instalación, así que no se abrió nada.',
  'scan-problem.tag-unknown': '{code} es una etiqueta correcta, pero ningún utillaje de aquí la lleva.',
  'scan-do.unknown-offline':
    'Ahora no hay red, así que puede que este teléfono aún no la conozca. Vaya donde haya red, sincronice y lea otra vez.',
  'scan-do.unknown-online':
    'Sincronice primero. Si sigue sin conocerse, registre el utillaje en un escritorio, o pregunte si su planta es una de las suyas.',
  'scan-do.failed': 'No se pudo buscar la etiqueta. No se ha perdido nada; pruebe otra vez.',
};
