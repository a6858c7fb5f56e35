import type { Component } from "svelte";
import type { StepKind } from "$lib/templates/body";
import ChoicesForm from "./ChoicesForm.svelte";
import PartStepForm from "./PartStepForm.svelte";
import ProcedureForm from "./ProcedureForm.svelte";
import RampForm from "./RampForm.svelte";
import ReadingForm from "./ReadingForm.svelte";
import SignOffForm from "./SignOffForm.svelte";
import TableForm from "./TableForm.svelte";
import TimerForm from "./TimerForm.svelte";
import WorkChoice from "./WorkChoice.svelte";
import type { StepFormProps } from "./props";

interface KindForm {
  form: Component<StepFormProps>;
  /** The fields it lays out: what is wrong in them is said there. */
  fields: string[];
}
const JUDGED = ["phase", "rule", "meter_kinds", "blocks"];

/** The form of each kind of step. Caution, instruction, note and photo need no more than their words. */
export const FORMS: Partial<Record<StepKind, KindForm>> = {
  look: { form: ChoicesForm, fields: ["choices", "writes"] },
  reading: { form: ReadingForm, fields: ["quantity", "unit", "band", "writes", ...JUDGED] },
  computed: { form: WorkChoice, fields: ["work"] },
  take_part: { form: PartStepForm, fields: ["part", "quantity"] },
  timer: { form: TimerForm, fields: ["seconds", "waiting_text"] },
  sign_off: { form: SignOffForm, fields: ["role", "other_person"] },
  ramp: { form: RampForm, fields: ["ramp", "phase"] },
  table: { form: TableForm, fields: ["table", ...JUDGED] },
  procedure: { form: ProcedureForm, fields: ["procedure"] },
};
