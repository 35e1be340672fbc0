import type { HandingWords } from './en.js';

export const fr: HandingWords = {
  title: 'Vos photos',
  allInOne: (size) => `Toutes en un fichier (zip, ${size})`,
  resumes: 'Si la connexion se coupe, relancez : la suite reprend où elle s’était arrêtée.',
  one: (number) => `Photo ${number}`,
  goodUntil: (date) => `Ce lien est valable jusqu’au ${date}. Qui l’a peut prendre les photos.`,
  making: (ready, all) =>
    `${ready} sur ${all} sont prêtes, les autres sont en cours. Rechargez cette page dans une minute.`,
  waitsForLaptop: (ready, all) =>
    `${ready} sur ${all} sont prêtes. Les autres attendent que l’ordinateur du photographe soit connecté.`,
  cannot: (count) => `N’ont pas pu être faites : ${count}. Le photographe le voit.`,
  waitsForSigns:
    'Que toutes ces photos montrent la même personne est en partie supposé. On les regarde avant de les remettre.',
  expired: 'Ce lien n’est plus valable',
  expiredWords: 'Un nouveau peut être envoyé à l’adresse e-mail de la commande.',
  renew: 'Envoyer un nouveau lien',
  revoked: 'Ce lien a été retiré',
  revokedWords: 'Le photographe l’a retiré. Écrivez-lui si c’est une erreur.',
  nothing: 'Il n’y a plus rien à prendre ici',
  nothingWords: 'La commande a été remboursée ou annulée, ou ses photos ont été retirées.',
  sent: 'Une lettre part',
  sentWords:
    'Si la commande tient toujours, un lien part dans quelques minutes vers son adresse e-mail, une fois par quart d’heure au plus. Regardez aussi dans le courrier indésirable.',
  noLetters: 'Aucune lettre ne part d’ici. Le lien se trouve sur la page de la commande ; ou écrivez au photographe.',
  letterWaits: 'La lettre avec le lien vers les photos est en route vers l’adresse e-mail de la commande.',
  letterSent: 'Le lien vers les photos est parti à l’adresse e-mail de la commande.',
  letterFailed: 'La lettre avec le lien n’est pas arrivée. L’adresse e-mail est-elle juste ? Écrivez au photographe.',
  sendAgain: 'L’envoyer encore',
  open: 'Récupérer vos photos',
  subject: (meeting) => `Vos photos : ${meeting}`,
  hello: (name) => `Bonjour ${name},`,
  ready: 'vos photos sont prêtes. Ce lien les ouvre :',
  orderPage: 'Votre commande et son reçu :',
  agreed: (when) => `Vous avez accepté ceci le ${when} :`,
  notYou: 'Est-ce quelqu’un d’autre sur une photo ? Répondez à cette lettre : elle est remplacée ou remboursée.',
};
