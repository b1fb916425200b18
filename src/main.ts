import { createPlanner } from './jobs/client.ts';
import { digestBlob } from './jobs/digestBlob.ts';
import { createIndexedDbVault } from './session/SessionVault.ts';
import { AppSheet } from './ui/AppSheet.ts';
import { adoptTokens } from './ui/adoptTokens.ts';
import { findDemo } from './ui/control/findDemo.ts';
import { keepOffline } from './ui/control/keepOffline.ts';
import { Workshop } from './ui/control/Workshop.ts';

/** The page: one workshop behind one sheet. */
adoptTokens(document);
const workshop = new Workshop(createPlanner(), createIndexedDbVault(digestBlob), await findDemo());
const sheet = new AppSheet();
sheet.workshop = workshop;
document.body.append(sheet);
await workshop.start();
await keepOffline(workshop.store);
