import { dropDraft, keepDraft, readDraft } from "$lib/db/drafts";
import { freshCustomer, type BookInForm } from "./form";

const DRAFT = "book-in";
type Personal = Pick<BookInForm, "id" | "customer" | "signature" | "signed_name">;

/** Keeps what is typed of a booking for after a reload. Whose unit it is stays with this tab and goes with it: the device
 *  keeps nothing of customers. */
export async function keepForm(form: BookInForm): Promise<void> {
  const { id, customer, signature, signed_name } = form;
  sessionStorage.setItem(DRAFT, JSON.stringify({ id, customer, signature, signed_name } satisfies Personal));
  const nobody = { customer: freshCustomer(customer.language), signature: null, signed_name: "" };
  await keepDraft(DRAFT, { ...form, ...nobody });
}

/** What was typed before a reload, with the customer only in the tab where they were typed. */
export async function readForm(): Promise<BookInForm | undefined> {
  const kept = await readDraft<BookInForm>(DRAFT);
  const personal = JSON.parse(sessionStorage.getItem(DRAFT) ?? "null") as Personal | null;
  return kept && personal?.id === kept.id ? { ...kept, ...personal } : kept;
}

export async function dropForm(): Promise<void> {
  sessionStorage.removeItem(DRAFT);
  await dropDraft(DRAFT);
}
