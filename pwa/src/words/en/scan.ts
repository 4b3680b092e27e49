/** English words of the section "scan". */
export const scan = {
  'scan.title': 'Scan a tag',
  'scan.starting': 'Opening the camera',
  'scan.aim': 'Hold the code in the frame',
  'scan.live': 'Live picture of the camera',
  'scan.lamp-on': 'Lamp on',
  'scan.lamp-off': 'Lamp off',
  'scan.near': 'How near',
  'scan.times': '{n}×',
  'scan.again': 'Try the camera again',
  'scan.picture': 'Take a picture',
  'scan.reading': 'Reading the picture',
  'scan.type': 'Type the code',
  'scan.code': 'Code on the tag',
  'scan.code-hint': 'Eleven characters, printed beside the QR code.',
  'scan.code-short': '{n} of 11 characters',
  'scan.open': 'Open the fixture',
  'scan.camera': 'Use the camera',
  'scan.sync': 'Sync now',
  'scan.next': 'Scan another',
  'scan.reads': 'It reads:',

  'scan-trouble.insecure':
    'On this connection the browser hides the camera. Take a picture of the code, or type it.',
  'scan-trouble.refused':
    'This page may not use the camera. Allow it in the browser’s settings for this site, then try again. Or take a picture of the code, or type it.',
  'scan-trouble.none': 'No camera was found. Take a picture of the code, or type it.',
  'scan-trouble.busy':
    'The camera is in use somewhere else. Close the other app and try again. Or take a picture of the code, or type it.',
  'scan-trouble.reader': 'The code reader did not start. Type the code that is printed on the tag.',
  'scan-trouble.picture':
    'No QR code was found in that picture. Go closer, keep the whole code in view, out of glare. Or type the code.',

  'scan-problem.tag-damaged':
    'A character of {code} is wrong: the last one checks the others, and it does not fit. Compare it with the tag.',
  'scan-problem.tag-foreign': 'This is not a tag of this installation, so nothing was opened.',
  'scan-problem.tag-unknown': '{code} is a good tag, but no fixture here carries it.',
  'scan-do.unknown-offline':
    'There is no network now, so this phone may not have heard of it yet. Go where there is network, sync, then scan again.',
  'scan-do.unknown-online':
    'Sync first. If it stays unknown, register the fixture at a desk, or ask whether its site is one of yours.',
  'scan-do.failed': 'The tag could not be looked up. Nothing is lost; try again.',
};
