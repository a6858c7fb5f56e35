// The sentences of model sheets, fetched with their screens.
import en from "./en.sheets.json";
import { addEnglish } from "./words.svelte";

addEnglish(en);
