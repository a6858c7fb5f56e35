// Compiled, never run: our hand-written shapes must take what the server's own schema says it sends. A change of the API
// that the app does not follow stops `npm run check`.
import type { components } from "$lib/api/schema";
import type * as ours from "$lib/api/shapes";
import type * as calculators from "$lib/calculators/shapes";
import type * as work from "$lib/api/work-shapes";
import type { MyBench } from "$lib/bench/shapes";
import type { SyncAnswer } from "$lib/queue/send";

type Sent = components["schemas"];
/** Fails to compile unless `Theirs` can be used as `Ours`. */
type Takes<Ours, Theirs extends Ours> = Theirs;

export type Agreement = [
  Takes<ours.MeSent, Sent["MeOut"]>,
  Takes<ours.Person, Sent["PersonOut"]>,
  Takes<ours.Device, Sent["DeviceOut"]>,
  Takes<ours.Customer, Sent["CustomerOut"]>,
  Takes<ours.Unit, Sent["UnitOut"]>,
  Takes<ours.RepairRow, Sent["RepairRowOut"]>,
  Takes<Omit<ours.Repair, "status_link">, Sent["RepairOut"]>,
  Takes<ours.PaperDocument, Sent["DocumentOut"]>,
  Takes<ours.Estimate, Sent["EstimateOut"]>,
  Takes<ours.ModelSheetRow, Sent["ModelSheetRowOut"]>,
  Takes<Omit<ours.JobTemplate, "facts">, Sent["JobTemplateOut"]>,
  Takes<ours.WorksheetRow, Sent["WorksheetRowOut"]>,
  Takes<ours.Bench, Sent["BenchOut"]>,
  Takes<ours.Part, Sent["PartOut"]>,
  Takes<ours.Order, Sent["OrderOut"]>,
  Takes<ours.Account, Sent["AccountOut"]>,
  Takes<ours.Board, Sent["BoardOut"]>,
  Takes<ours.CodeFound, Sent["CodeOut"]>,
  Takes<ours.MyPacks, Sent["MyPacksOut"]>,
  Takes<MyBench, Sent["MyBenchOut"]>,
  Takes<ours.Found, Sent["Found"]>,
  Takes<Pick<work.Entry, "id" | "record" | "kind" | "made_at">, Sent["EntryOut"]>,
  // Of a schema and of a working the server only says that they are objects.
  Takes<Omit<calculators.CalculatorRow, "input" | "answer">, Sent["CalculatorOut"]>,
  Takes<Omit<calculators.CalculatorAnswer, "working">, Sent["AnswerOut"]>,
  Takes<SyncAnswer["results"][number], Sent["ResultOut"]>,
];
