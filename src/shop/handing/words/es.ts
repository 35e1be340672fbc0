import type { HandingWords } from './en.js';

export const es: HandingWords = {
  title: 'Tus fotos',
  allInOne: (size) => `Todas en un archivo (zip, ${size})`,
  resumes: 'Si se corta la conexión, vuelve a empezar: sigue donde se paró.',
  one: (number) => `Foto ${number}`,
  goodUntil: (date) => `Este enlace vale hasta el ${date}. Quien lo tenga puede llevarse las fotos.`,
  making: (ready, all) =>
    `${ready} de ${all} están listas y las demás se están haciendo. Vuelve a cargar la página en un minuto.`,
  waitsForLaptop: (ready, all) =>
    `${ready} de ${all} están listas. Las demás esperan a que se conecte el portátil del fotógrafo.`,
  cannot: (count) => `No se pudieron hacer: ${count}. El fotógrafo lo ve.`,
  waitsForSigns:
    'Que todas estas fotos sean de la misma persona es en parte una suposición. Se miran antes de entregarlas.',
  expired: 'Este enlace ha caducado',
  expiredWords: 'Se puede enviar uno nuevo a la dirección de correo del pedido.',
  renew: 'Enviar un enlace nuevo',
  revoked: 'Este enlace se ha retirado',
  revokedWords: 'El fotógrafo lo ha retirado. Escríbele si es un error.',
  nothing: 'Aquí ya no hay nada que recoger',
  nothingWords: 'El pedido se devolvió o se anuló, o sus fotos se retiraron.',
  sent: 'Sale una carta',
  sentWords:
    'Si el pedido sigue en pie, en unos minutos sale un enlace a su dirección de correo, como mucho una vez cada cuarto de hora. Mira también en el correo no deseado.',
  noLetters: 'Desde aquí no salen cartas. El enlace está en la página del pedido; o escribe al fotógrafo.',
  letterWaits: 'La carta con el enlace a las fotos va camino de la dirección de correo del pedido.',
  letterSent: 'El enlace a las fotos salió para la dirección de correo del pedido.',
  letterFailed: 'La carta con el enlace no llegó. ¿Es correcta la dirección de correo? Escribe al fotógrafo.',
  sendAgain: 'Enviarla otra vez',
  open: 'Descargar tus fotos',
  subject: (meeting) => `Tus fotos: ${meeting}`,
  hello: (name) => `Hola, ${name}:`,
  ready: 'tus fotos están listas. Este enlace las abre:',
  orderPage: 'Tu pedido y su recibo:',
  agreed: (when) => `El ${when} aceptaste esto:`,
  notYou: '¿Sale otra persona en una foto? Responde a esta carta: se corrige o se devuelve el dinero.',
};
