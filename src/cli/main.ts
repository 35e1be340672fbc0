#!/usr/bin/env node
/** The verbs of the photographer's day, in a terminal. */
import { Command } from 'commander';

// Whoever reads along may stop reading (`| head`): the copies go on.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

const several = (value: string, before: readonly string[] = []): readonly string[] => [...before, value];

const program = new Command('tyrewall')
  .description("Turns a day of trackside frames into every rider's own set, the same day.")
  .version('0.1.0')
  // So that a command and one below it may have an option of the same name.
  .enablePositionalOptions()
  .showHelpAfterError('Say tyrewall --help for what can be said.');

program
  .command('begin')
  .description('make the folder of a new meeting, to plan its day before there is a card')
  .option('--name <name>', 'what the meeting is called')
  .option('--day <day>', 'its day, as YYYY-MM-DD, or first..last of several')
  .option('--to <disk>', 'where the meeting lies; say it twice for two disks', several)
  .option('--zone <zone>', 'its time zone, for instance Europe/London; else the machine’s')
  .action(async (wish) => (await import('./beginCommand.js')).beginCommand(wish));

program
  .command('bring-in')
  .description('copy cards to one or two disks, prove the copies, measure, arrange, and say who is thin')
  .argument('<card...>', 'cards or folders')
  .option('--to <disk>', 'where the meeting lies; say it twice for two copies', several)
  .option('--name <name>', 'name of the meeting, where it is new')
  .option('--day <day>', 'its day, as YYYY-MM-DD, or first..last of several; else guessed from what the cameras wrote')
  .option('--zone <zone>', 'its time zone, for instance Europe/London')
  .action(async (cards: string[], wish) => (await import('./bringInCommand.js')).bringInCommand(cards, wish));

program
  .command('measure')
  .description('measure what is left, and look at the best few frames of every pass in full')
  .argument('<meeting>')
  .action(async (folder: string) => (await import('./measureCommand.js')).measureCommand(folder));

const askingOrders = (command: Command): Command =>
  command
    .option('--data <folder>', 'folder of the order service, where it runs on this machine')
    .option('--from <address>', 'admin address of the order service')
    .option('--password-file <file>', 'file with its key or password');

askingOrders(
  program
    .command('open')
    .description('open the desk of a meeting in a browser on this machine')
    .argument('<meeting>', 'its folder, on either disk')
    .option('--port <port>', 'port on this machine')
    .option('--watch', 'bring a card in as soon as it appears'),
).action(async (folder: string, wish) => (await import('./openCommand.js')).openCommand(folder, wish));

program
  .command('before')
  .description('print papers, packing list and cautions before leaving home')
  .argument('<meeting>')
  .option('--day <day>', 'of a meeting of several days, as YYYY-MM-DD')
  .option('--json', 'the same page as data')
  .action(async (folder: string, wish) => (await import('./beforeCommand.js')).beforeCommand(folder, wish));

program
  .command('show')
  .description('print sessions, riders and who is thin')
  .argument('<meeting>')
  .action(async (folder: string) => (await import('./showCommand.js')).showCommand(folder));

const dayOptions = (command: Command): Command =>
  command
    .option('--day <day>', 'which day of the meeting, as YYYY-MM-DD; else today, else its first')
    .option('--from <time>', 'only what is still to come then, for instance 13:20')
    .option('--photographer <number>', 'whose day, where several share it')
    .option('--vehicle', 'a van may be driven where the ways allow it; else all is on foot')
    .option('--permit', 'you have the permit for ways and spots that need one; else as it was said at the desk')
    .option('--no-permit', 'you have it not')
    .option('--json', 'as data');

dayOptions(
  program.command('plan').description('print where to stand and when, why, and in which light').argument('<meeting>'),
)
  .option('--anew', 'ask the solver, whatever plan was taken')
  .option('--take', 'make what the solver found the plan of the day')
  .action(async (folder: string, wish) => (await import('./planCommand.js')).planCommand(folder, wish));

dayOptions(program.command('sheet').description('the run sheet: a PDF to print and a calendar').argument('<meeting>'))
  .option('--pdf <file>', 'where the PDF goes; with neither this nor --ics both lie in made/sheets of the meeting')
  .option('--ics <file>', 'where the calendar goes')
  .action(async (folder: string, wish) => (await import('./sheetCommand.js')).sheetCommand(folder, wish));

dayOptions(
  program
    .command('pocket')
    .description('the day for the phone: a code in the terminal, or a file; and the page to host with the gallery')
    .argument('<meeting>'),
)
  .option('--address <address>', 'where the page is hosted, for instance https://pictures.example/pocket/')
  .option('--file <file>', 'one HTML file with the page and the day in it')
  .option('--code <file>', 'the day alone, for the hosted page to open')
  .option('--out <folder>', 'the page’s static files, to be put beside the gallery')
  .action(async (folder: string, wish) => (await import('./pocketCommand.js')).pocketCommand(folder, wish));

program
  .command('taps')
  .description('show what was tapped on the phone, from the file it saved; with --take, take it')
  .argument('<meeting>')
  .argument('<file>')
  .option('--take', 'make it part of the day')
  .action(async (folder: string, file: string, wish) =>
    (await import('./tapsCommand.js')).tapsCommand(folder, file, wish),
  );

program
  .command('cards')
  .description('what clock and number cards in pictures say; or number cards to print')
  .argument('<meeting>')
  .option('--take', 'take all that is open')
  .option('--print <from-to>', 'cards to print, for instance 1-40')
  .option('--pdf <file>', 'where the printed cards go')
  .option('--gallery <address>', 'where riders’ phones come to with a card')
  .action(async (folder: string, wish) => (await import('./cardsCommand.js')).cardsCommand(folder, wish));

program
  .command('roll-call')
  .description('count the bikes of a group that stood in a row, and with --riders say the head count')
  .argument('<meeting>')
  .argument('<group>')
  .argument('<from>', 'for instance 08:10')
  .argument('<to>')
  .option('--day <day>', 'as YYYY-MM-DD; else the first')
  .option('--riders <count>', 'the head count')
  .action(async (folder: string, group: string, from: string, to: string, wish) =>
    (await import('./rollCallCommand.js')).rollCallCommand(folder, group, [from, to], wish),
  );

dayOptions(
  program
    .command('lunch')
    .description('the morning by group and spot, whom to look for, and the afternoon planned again')
    .argument('<meeting>'),
)
  .option('--take', 'make what was found the plan of the afternoon')
  .option('--sheet', "write the afternoon's run sheet, of the plan that stands then")
  .action(async (folder: string, wish) => (await import('./lunchCommand.js')).lunchCommand(folder, wish));

program
  .command('kit')
  .description("look for dust on each body's sensor, and print what the field is made of; changes nothing")
  .argument('<meeting>')
  .option('--json', 'as data')
  .action(async (folder: string, wish) => (await import('./kitCommand.js')).kitCommand(folder, wish));

program
  .command('choose')
  .description('list every rider’s keepers, thin riders first; with --rider one set with its whys; quotas stay said')
  .argument('<meeting>')
  .option('--rider <code>', 'for instance N-ka')
  .option('--most-per-rider <count>', 'proposed for one rider; a person may keep more')
  .option('--most-per-spot <count>', 'proposed for one rider from one spot')
  .option('--most-in-all <count>', 'proposed for all riders together')
  .option('--least-per-rider <count>', 'riders with fewer are shown first')
  .action(async (folder: string, wish) => (await import('./chooseCommand.js')).chooseCommand(folder, wish));

program
  .command('finish')
  .description('make proofs of the keepers; with --finals, the finals')
  .argument('<meeting>')
  .option('--proof-edge <px>', 'long edge of this meeting’s proofs from now on, 1000 to 1600')
  .option(
    '--mark <file>',
    'your own mark, a PNG or SVG with transparency: of this meeting’s proofs and of later meetings’',
  )
  .option('--mark-in-words', 'words for a mark again, here and in later meetings')
  .option('--finals', 'whole pictures without a mark, in made/finals')
  .option('--edge <px>', 'long edge of the finals; else as large as the original')
  .option('--raw', 'develop the finals from the raws, where there are any')
  .action(async (folder: string, wish) => (await import('./handOverCommands.js')).finishCommand(folder, wish));

program
  .command('finishes')
  .description('finishes kept for other meetings, by name; with a meeting, the one it goes by')
  .argument('[meeting]')
  .option('--by <name>', 'the meeting goes by this one from now on')
  .option('--keep-as <name>', 'keep what the meeting goes by, for other meetings')
  .option('--let-go <name>', 'keep this one no longer')
  .action(async (folder: string | undefined, wish) =>
    (await import('./finishesCommand.js')).finishesCommand(folder, wish),
  );

program
  .command('debrief')
  .description('what worked: hit rates with their ranges, keepers for the minutes spent, the plan against the day')
  .argument('<meeting>')
  .option('--beside <meeting>', 'set the rates of another meeting beside these: its folder, or its made/debrief.json')
  .option('--paper', 'onto one sheet of A4 as well, made/debrief.pdf')
  .option('--json', 'as data')
  .action(async (folder: string, wish) => (await import('./debriefCommand.js')).debriefCommand(folder, wish));

program
  .command('take-out')
  .description('lay every rider’s keepers into folders for other programs: the camera’s files, each with a sidecar')
  .argument('<meeting>')
  .argument('<folder>')
  .option('--all', 'every frame of the day, not the keepers alone')
  .option('--finals', 'the finals of the keepers, with the words inside, in place of the camera’s files')
  .action(async (folder: string, to: string, wish) =>
    (await import('./waysCommands.js')).takeOutCommand(folder, to, wish),
  );

program
  .command('take-back')
  .description('look for the frames of pictures finished elsewhere; with --take, take them for their finals')
  .argument('<meeting>')
  .argument('<folder>')
  .option('--take', 'take those whose frame is sure')
  .option('--by-name', 'a picture whose name begins with a frame’s full name is that frame’s, whatever it looks like')
  .action(async (folder: string, from: string, wish) =>
    (await import('./waysCommands.js')).takeBackCommand(folder, from, wish),
  );

program
  .command('hand-over')
  .description('make the gallery, ready to be put on any web server')
  .argument('<meeting>')
  .action(async (folder: string) => (await import('./handOverCommands.js')).handOverCommand(folder));

program
  .command('organiser')
  .description('what goes to the organiser: look at it; change it by a word; with --out hand it over')
  .argument('<meeting>')
  .option('--pictures <count>', 'so many this time; else as agreed, else 15')
  .option('--class <group>', 'only of this group or class; say it again for more', several)
  .option('--only <what>', 'podium, or boards: from spots where boards are seen')
  .option('--with <picture>', 'this one too, by its name', several)
  .option('--without <picture>', 'not this one, by its number in the list or its name', several)
  .option('--choice <file>', 'what they chose themselves: a list of names or numbers, XLSX, CSV or text')
  .option('--names', 'riders’ names of the entry list in the captions; never of whom is not of age')
  .option('--edge <px>', 'long edge of the files; else as agreed, else 3000')
  .option('--out <folder>', 'where files, contact sheet, captions and terms go')
  .option('--password-file <file>', 'a password for the page they are shared on')
  .option('--for <name>', 'stays said: who the organiser is')
  .option('--agreed-pictures <count>', 'stays said: how many they were promised')
  .option('--due <time>', 'stays said: 17:30, 2026-09-21T09:00, or +60 for minutes after the last flag')
  .option('--boards <spot>', 'stays said: sponsors’ boards are seen from there; say it again for more', several)
  .option('--sponsors', 'stays said: they may pass pictures to sponsors')
  .option('--no-sponsors', 'they may not')
  .option('--until <day>', 'stays said: they may use them until that day, as YYYY-MM-DD')
  .option('--commission <part>', 'stays said: their part of what riders pay, as 15%, 15% net or 200.00 EUR')
  .action(async (folder: string, wish) => (await import('./organiserCommand.js')).organiserCommand(folder, wish));

program
  .command('clients')
  .description('who booked, whether each is seen by the cards and by your taps, and what is still owed')
  .argument('<meeting>')
  .option('--out <file>', 'as a page that needs no signal')
  .option('--json', 'as data')
  .action(async (folder: string, wish) => (await import('./clientsCommand.js')).clientsCommand(folder, wish));

program
  .command('takings')
  .description('what came in by product, spot, session and rider, from the orders that were fetched')
  .argument('<meeting...>', 'one after another')
  .option('--csv <file>', 'for the accountant, one line a fact')
  .option('--json', 'as data')
  .action(async (folders: string[], wish) => (await import('./takingsCommand.js')).takingsCommand(folders, wish));

askingOrders(
  program
    .command('take-down')
    .description('take pictures down everywhere: galleries, proofs, finals, places, orders, links; with a proof')
    .argument('<meeting>')
    .option('--rider <code>', 'all of a rider, for instance N-ka, or by the letters at the end of their address')
    .option('--person <name>', 'all of a person in people/, now and whenever they are named')
    .option('--picture <name>', 'one picture, by address, final or file name; say it again for more', several)
    .option('--dry-run', 'say what would go')
    .option('--again', 'try the places once more that could not be reached')
    .option('--gone <folder>', 'beside --again: a folder pictures were laid into, and that was deleted'),
).action(async (folder: string, wish) => (await import('./lawCommands.js')).takeDownCommand(folder, wish));

program
  .command('hold')
  .description('hold frames back, after a fall for instance; without a frame, those held and those to be looked at')
  .argument('<meeting>')
  .argument('[picture...]')
  .option('--release', 'show them after all')
  .action(async (folder: string, pictures: string[], wish) =>
    (await import('./lawCommands.js')).holdCommand(folder, pictures, wish),
  );

program
  .command('minor')
  .description('say that a rider is not of age: no picture without a parent’s consent, and no name in any case')
  .argument('<meeting>')
  .option('--rider <code>')
  .option('--person <name>')
  .option('--consent', 'a parent agreed to pictures, in writing')
  .option('--of-age', 'they are of age after all')
  .action(async (folder: string, wish) => (await import('./lawCommands.js')).minorCommand(folder, wish));

program
  .command('export-person')
  .description('lay all that is known of a rider or person into a new folder, to be given to them')
  .argument('<meeting>')
  .argument('<folder>')
  .option('--rider <code>')
  .option('--person <name>')
  .action(async (folder: string, to: string, wish) =>
    (await import('./personCommands.js')).exportPersonCommand(folder, to, wish),
  );

askingOrders(
  program
    .command('erase')
    .description('erase name, contact and bookings of a person; orders keep their money for the books')
    .argument('<meeting>')
    .requiredOption('--person <name>', 'name or id'),
).action(async (folder: string, wish) => (await import('./personCommands.js')).eraseCommand(folder, wish));

askingOrders(
  program
    .command('keep-until')
    .description('say what is kept until when, and delete what was said a week ago; never what the cards brought')
    .argument('<meeting>')
    .option('--keep <kind=days>', 'keep a kind so many days, for instance proofs=200', several)
    .option('--stop', 'delete nothing until --go-on')
    .option('--go-on', 'let it go on')
    .option('--dry-run', 'say it and change nothing'),
).action(async (folder: string, wish) => (await import('./personCommands.js')).keepUntilCommand(folder, wish));

askingOrders(
  program
    .command('wrong-rider')
    .description('take pictures of another rider out of an order and give back what was paid for them')
    .argument('<reference>', 'of the order')
    .argument('<picture...>', 'the letters at the end of their addresses')
    .option('--dry-run', 'say what would go back'),
).action(async (reference: string, pictures: string[], wish) =>
  (await import('./personCommands.js')).wrongRiderCommand(reference, pictures, wish),
);

program
  .command('gallery')
  .description('make the gallery and lay it into any folder; what is said of it is the meeting’s from then on')
  .argument('<meeting>')
  .option('--out <folder>', 'where the files go, to be put on a web server')
  .option('--site <address>', 'where the gallery will be found')
  .option('--shop <address>', 'where the order service answers riders')
  .option('--first', 'one best picture of each rider first, the rest behind it')
  .option('--language <code>', 'of its first pages: en, de, fr, it, es, ar; the others lie beside them')
  .option(
    '--contact <address>',
    'where riders reach you, for takedowns and in the privacy notice: mail, web or telephone',
  )
  .option('--names', 'the organiser allows that riders of age are looked for by name')
  .option('--no-names', 'and not any more')
  .option('--cards <file>', 'cards to print and cut that lead to it, a PDF')
  .action(async (folder: string, wish) => (await import('./galleryCommand.js')).galleryCommand(folder, wish));

program
  .command('own-link')
  .description('riders’ private links to their own pictures, by their codes')
  .argument('<meeting>')
  .argument('<rider...>')
  .option('--anew', 'another link in place of the one before')
  .option('--end', 'no link any more')
  .option('--pdf <file>', 'slips to print and cut')
  .action(async (folder: string, riders: string[], wish) =>
    (await import('./ownLinkCommand.js')).ownLinkCommand(folder, riders, wish),
  );

program
  .command('put-up')
  .description('put the made gallery up to a place: what was taken down leaves first, the entry comes last')
  .argument('<meeting>')
  .option('--to <place>', 'its name, as said with place add; not needed where there is only one')
  .option('--dry-run', 'say what would be done, in which order, and what it costs')
  .option('--rate <Mbit/s>', 'the line a dry run reckons with; else 2')
  .action(async (folder: string, wish) => (await import('./putUpCommand.js')).putUpCommand(folder, wish));

const place = program
  .command('place')
  .description('places galleries are put up to; kept on this machine, for you alone');
place
  .command('add')
  .description('name a place: a folder, sftp://user@host/folder or s3://bucket/folder')
  .argument('<name>')
  .argument('<address>')
  .option('--key <file>', 'your private key for the SFTP server')
  .option('--host-key <fingerprint>', 'the server’s key as SHA256:…; without it the key it shows is printed')
  .option('--key-id <id>', 'key of the bucket')
  .option('--secret-from <file>', 'its first line is the password, the passphrase of the key, or the bucket’s secret')
  .option('--endpoint <address>', 'where the bucket’s storage answers, for instance https://storage.example')
  .option('--region <region>', 'of the bucket; else us-east-1')
  .action(async (name: string, address: string, wish) =>
    (await import('./putUpCommand.js')).placeAddCommand(name, address, wish),
  );
place
  .command('list')
  .description('all places by name, without their secrets')
  .action(async () => (await import('./putUpCommand.js')).placesCommand());
place
  .command('forget')
  .description('forget a place and its secrets; what lies there stays')
  .argument('<name>')
  .action(async (name: string) => (await import('./putUpCommand.js')).placeForgetCommand(name));

program
  .command('circuit')
  .description(
    "show a circuit's file or a recorded lap (GPX, GeoJSON) with its faults; without a file the meeting's own",
  )
  .argument('<meeting>')
  .argument('[file]')
  .option('--take', 'make it the circuit of the meeting')
  .option('--name <name>', 'name of a circuit from a recorded lap')
  .option('--save <file>', 'write it as GeoJSON')
  .action(async (folder: string, file: string | undefined, wish) =>
    (await import('./circuitCommand.js')).circuitCommand(folder, file, wish),
  );

program
  .command('timetable')
  .description("show what each line of an organiser's timetable became, XLSX, CSV or text; with --take, take it")
  .argument('<meeting>')
  .argument('<file>')
  .option('--take', 'make it the timetable of the meeting')
  .option('--sliding', 'when a session is late, everything after it moves')
  .option('--clock-fixed', 'when a session is late, a lost minute is lost')
  .option('--day <day>', 'the day of lines that name none, as YYYY-MM-DD; else the first')
  .action(async (folder: string, file: string, wish) =>
    (await import('./timetableCommands.js')).timetableCommand(folder, file, wish),
  );

program
  .command('entries')
  .description('show an entry list with its clashes; with --take, take it')
  .argument('<meeting>')
  .argument('<file>')
  .option('--take', 'make it the entry list of the meeting')
  .action(async (folder: string, file: string, wish) =>
    (await import('./timetableCommands.js')).entriesCommand(folder, file, wish),
  );

program
  .command('slip')
  .description(
    'say what went otherwise than the timetable: late N3 7; red 10:42 10:55; lunch 20; drop F7; group Guests 13:00; undo',
  )
  .argument('<meeting>')
  .argument('<word...>')
  .option('--yes', 'although it drops sessions, eats lunch or was said a moment ago')
  .option('--day <day>', 'the day it is about, as YYYY-MM-DD; else the first')
  .allowUnknownOption()
  .action(async (folder: string, words: string[], wish) =>
    (await import('./slipCommand.js')).slipCommand(folder, words, wish),
  );

program
  .command('wish')
  .description(
    'say what the plan shall keep to: here N3 Beacon; not-here N3 Beacon; closed Beacon 13:00 14:00; rest 12:30 13:00; rain 15:00 16:00; sky overcast 09:00 12:00; weigh Beacon 2; weigh Novice 2; photographers 2; vehicle yes; drop 1. Without words: what is wished',
  )
  .argument('<meeting>')
  .argument('[word...]')
  .option('--day <day>', 'the day it is about, as YYYY-MM-DD; else the first')
  .action(async (folder: string, words: string[], wish) =>
    (await import('./wishCommand.js')).wishCommand(folder, words, wish),
  );

program
  .command('verify')
  .description('check a meeting, or any folder with an ASC MHL history, against its manifests')
  .argument('<folder>')
  .option('--record', 'write what was found into its manifests; otherwise it is only read')
  .action(async (folder: string, wish) => (await import('./verifyCommands.js')).verifyCommand(folder, wish));

program
  .command('mend')
  .description('mend a damaged copy from a good one')
  .argument('<meeting>', 'the folder with damaged files')
  .option('--from <meeting>', 'the same meeting on another disk')
  .action(async (folder: string, wish) => (await import('./verifyCommands.js')).mendCommand(folder, wish));

program
  .command('add-disk')
  .description('put a proven copy of a meeting on another disk')
  .argument('<meeting>')
  .argument('<new-folder>')
  .action(async (meeting: string, folder: string) =>
    (await import('./verifyCommands.js')).addDiskCommand(meeting, folder),
  );

program
  .command('demo')
  .description('the main job on an invented meeting, then its desk')
  .option('--folder <folder>', 'where to lay it; else a new folder among the temporary ones')
  .option('--port <port>', 'port of the desk')
  .option('--no-desk', 'end when the gallery is made')
  .action(async (wish) => (await import('./demoCommand.js')).demoCommand(wish));

const orders = program
  .command('orders')
  .description('the service riders order from, until you end it; it holds the orders, and the laptop fetches them')
  .option('--data <folder>', 'its own folder, with its secrets; never inside a meeting')
  .option('--database <address>', 'of PostgreSQL, as postgresql://…; else a file in the folder')
  .option(
    '--offer <file>',
    'what is sold, as tyrewall gallery lays it beside an edition; say it again for more meetings',
    several,
  )
  .option('--site <address>', 'where riders reach it, for instance https://orders.example.org')
  .option('--listen <address>', 'for riders; else 127.0.0.1')
  .option('--port <port>', 'for riders; else 8420')
  .option('--admin-listen <address>', 'for you; else 127.0.0.1, and another only once a password is set')
  .option('--admin-port <port>', 'for you; else 8421')
  .option('--behind-proxy', 'a reverse proxy says who asks, at the end of X-Forwarded-For')
  .action(async (wish) => (await import('./ordersCommand.js')).ordersCommand(wish));

const asking = (command: Command): Command =>
  command
    .option('--data <folder>', 'the service’s folder, on this machine')
    .option('--from <address>', 'its admin side; else http://127.0.0.1:8421')
    .option('--password-file <file>', 'where its password stands; else the key in its folder lets you in');

asking(
  orders
    .command('fetch')
    .description('bring new orders to the laptop, into people/ of the meeting')
    .argument('<meeting>'),
)
  .option('--offer <file>', 'only orders of this meeting, where the service has several')
  .action(async (folder: string, wish) => (await import('./ordersCommand.js')).fetchCommand(folder, wish));
asking(orders.command('list').description('all orders, by reference'))
  .option('--waiting', 'only those that wait for money')
  .action(async (wish) => (await import('./ordersCommand.js')).listCommand(wish));
asking(orders.command('paid').description('say that money came').argument('<reference>'))
  .option('--way <way>', 'cash, transfer or terminal; else cash')
  .option('--amount <amount>', 'else all that is owed')
  .option('--slip <words>', 'what stands on the slip or the statement')
  .action(async (reference: string, wish) => (await import('./ordersCommand.js')).paidCommand(reference, wish));
asking(orders.command('refund').description('say that money went back').argument('<reference>'))
  .option('--amount <amount>', 'else all that was paid')
  .option('--why <why>', 'wrong-rider, taken-down, cancelled or kindness')
  .option('--slip <words>', 'what stands on the slip or the statement')
  .action(async (reference: string, wish) => (await import('./ordersCommand.js')).refundCommand(reference, wish));
asking(orders.command('cancel').description('end an order nobody has paid').argument('<reference>')).action(
  async (reference: string, wish) => (await import('./ordersCommand.js')).cancelCommand(reference, wish),
);
asking(orders.command('prints').description('say that its prints were handed over').argument('<reference>')).action(
  async (reference: string, wish) => (await import('./ordersCommand.js')).printsHandedCommand(reference, wish),
);
asking(
  orders.command('offer').description('put a newer offer in place of the meeting’s last one').argument('<file>'),
).action(async (file: string, wish) => (await import('./ordersCommand.js')).offerCommand(file, wish));
asking(
  orders
    .command('voucher')
    .description('make a code good')
    .argument('<offer>', 'the meeting’s offer')
    .argument('<code>'),
)
  .option('--percent <share>', 'so much of the price off; 100 is a whole order free')
  .option('--amount <amount>', 'so much off')
  .option('--prepaid <amount>', 'for who has paid that before there was a picture')
  .option('--booking <words>', 'with --prepaid, what the booking is called')
  .option('--uses <count>', 'for so many orders')
  .option('--until <day>', 'good on that day still, as YYYY-MM-DD')
  .action(async (offer: string, code: string, wish) =>
    (await import('./ordersCommand.js')).voucherCommand(offer, code, wish),
  );
asking(
  orders
    .command('bring')
    .description('make what was bought in full, without a mark, and bring it to the service')
    .argument('<meeting>'),
)
  .option('--stay', 'go on with what is bought from now on, until you end it')
  .action(async (folder: string, wish) => (await import('./handedCommands.js')).bringCommand(folder, wish));
asking(orders.command('waiting').description('what is paid and not handed over yet, and what it waits for')).action(
  async (wish) => (await import('./handedCommands.js')).waitingCommand(wish),
);
asking(orders.command('link').description('an order’s link, to pass on by hand').argument('<reference>')).action(
  async (reference: string, wish) => (await import('./handedCommands.js')).linkCommand(reference, wish),
);
asking(orders.command('take-link-back').description('end an order’s link').argument('<reference>')).action(
  async (reference: string, wish) => (await import('./handedCommands.js')).takeLinkBackCommand(reference, wish),
);
asking(orders.command('letter').description('send the letter with the link again').argument('<reference>')).action(
  async (reference: string, wish) => (await import('./handedCommands.js')).letterCommand(reference, wish),
);
orders
  .command('password')
  .description('set the password of the admin side, from standard input')
  .option('--data <folder>', 'the service’s folder')
  .option('--none', 'take it away again')
  .action(async (wish) => (await import('./ordersCommand.js')).passwordCommand(wish));

try {
  await program.parseAsync();
} catch (error) {
  // A sentence is for the person; a trace is for whoever mends the program.
  console.error(process.env.TYREWALL_TRACE === undefined && error instanceof Error ? error.message : error);
  process.exitCode = 1;
}
