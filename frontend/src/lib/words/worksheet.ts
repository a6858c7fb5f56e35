// The sentences of a worksheet's steps, fetched with them.
import en from "./en.worksheet.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.worksheet.json")] });
