/** Spanish words of the section "start". */
import type { Catalogue } from '../catalogue';
import type { start as english } from '../en/start';

export const start: Catalogue<keyof typeof english> = {
  'start.title': 'Jointwalk',
  'start.what': 'Jointwalk registra la búsqueda de fugas en las juntas de un puesto de ensayo de estanqueidad.',
  'start.lead': 'Este dispositivo aún no está emparejado.',
  'start.how': 'Pida una invitación. Es un código QR o un código corto, y vale para un dispositivo.',
  'start.lost':
    'Este dispositivo ya estuvo emparejado. Lo que no ha enviado sigue aquí; emparéjelo otra vez para enviarlo.',
  'start.scan': 'Leer la invitación',
  'start.type': 'Escribir el código',
  'start.code': 'Código de la invitación',
  'start.code-hint': 'Está debajo del código QR de la invitación.',
  'start.device': 'Nombre de este dispositivo',
  'start.device-hint': 'Para que se sepa cuál es.',
  'start.device-plain': 'Teléfono',
  'start.device-tablet': 'Tableta',
  'start.device-desk': 'Escritorio',
  'start.pair': 'Emparejar este dispositivo',
  'start.pairing': 'Emparejando',
  'start.other': 'No es una invitación de esta instalación:',
  'start.heard': 'Invitación leída. Ponga nombre al dispositivo y emparéjelo.',
  'start.first':
    'Aún no hay nadie aquí. Abra el enlace de puesta en marcha que imprimió el servidor, o escriba su código.',
  'start.setup-open': 'Poner en marcha esta instalación',

  'setup.title': 'Puesta en marcha',
  'setup.lead': 'Es la primera persona aquí. Puede hacerlo todo e invitar a los demás.',
  'setup.done': 'Esta instalación ya está en marcha. Para entrar, pida una invitación.',
  'setup.code': 'Código de puesta en marcha',
  'setup.code-hint': 'El servidor lo imprimió en su terminal junto con el enlace.',
  'setup.name': 'Su nombre',
  'setup.with': 'Empezar con',
  'setup.empty': 'Un libro vacío',
  'setup.example': 'La planta de ejemplo',
  'setup.example-what':
    'Una planta inventada: tres utillajes con un año de rondas. Puede quedarse junto a sus propias plantas.',
  'setup.empty-what': 'Sin nada dentro. Después añada una planta y su primer utillaje.',
  'setup.go': 'Empezar',
  'setup.going': 'Poniendo en marcha',

  'join.title': 'Entrar',
  'join.install': 'Primero ponga la aplicación en este teléfono',
  'join.install-why':
    'Instalada, se abre sin red y guarda lo que registra. Empareje dentro de la aplicación: lo que guarda una página del navegador es otro almacén.',
  'join.install-do': 'Instalar',
  'join.install-wait': 'Instalada. Ábrala desde la pantalla de inicio y lea allí la invitación.',
  'join.share-1': 'Toque el signo de compartir: el cuadrado con la flecha hacia arriba.',
  'join.share-2': 'Elija «Añadir a pantalla de inicio» y luego «Añadir».',
  'join.then': 'Abra la aplicación desde la pantalla de inicio y lea allí la invitación, o escriba su código.',
  'join.menu-1': 'Abra el menú del navegador.',
  'join.menu-2': 'Elija «Añadir a pantalla de inicio» o «Instalar aplicación».',
  'join.here': 'Emparejar aquí, en el navegador',
  'join.lead': 'Le han invitado. Ponga nombre a este dispositivo y emparéjelo.',

  'connection.title': 'Por qué este dispositivo no puede trabajar sin red',
  'connection.insecure':
    'Esta conexión no es segura, y los navegadores solo guardan aplicaciones para usar sin red desde conexiones seguras. Todo funciona mientras se alcance el servidor; sin red, la página desaparece.',
  'connection.untrusted':
    'Este dispositivo no confía en el certificado del servidor, así que el navegador no guarda la aplicación. Todo funciona mientras se alcance el servidor; sin red, la página desaparece.',
  'connection.no-worker':
    'Este navegador no guarda aplicaciones para usar sin red: quizá una ventana privada o un ajuste. Todo funciona mientras se alcance el servidor.',
  'connection.trust': 'Cómo llega este dispositivo a confiar',
  'connection.trust-none':
    'Quien lleva el servidor puede activarlo: arrancarlo con --https=local, o con un certificado propio (--https=acme o files).',

  'start-fault.invitation-unknown': 'Ese código no es correcto. Compárelo con la invitación.',
  'start-fault.invitation-used': 'Esta invitación ya se usó. Pida otra; cada una vale para un dispositivo.',
  'start-fault.invitation-expired': 'Esta invitación ha caducado. Pida otra.',
  'start-fault.shared-supervisor': 'Quien supervisa tiene un dispositivo propio: un teléfono compartido es para registrar.',
  'start-fault.shared-full': 'Ya usan este teléfono doce personas, el máximo.',
  'start-fault.invitation-blocked': 'Demasiados intentos fallidos: la invitación se cerró. Pida otra.',
  'start-fault.too-many-tries': 'Demasiados intentos desde este dispositivo. Espere un minuto y pruebe otra vez.',
  'start-fault.bad-input': 'Falta algo o es demasiado largo. Revise el nombre y el dispositivo, y pruebe otra vez.',
  'start-fault.setup-code':
    'Ese código de puesta en marcha no es correcto. El servidor imprime uno nuevo en cada arranque; use el último.',
  'start-fault.setup-expired': 'El código de puesta en marcha ha caducado. Arranca el servidor otra vez: imprime uno nuevo.',
  'start-fault.setup-done': 'Esta instalación ya está en marcha. Para entrar, pida una invitación.',
  'start-fault.offline':
    'No se alcanza el servidor. Emparejar lo necesita una vez; no se ha perdido nada. Pruebe otra vez con red.',
  'start-fault.failed': 'No funcionó. No se ha cambiado nada; pruebe otra vez.',
};
