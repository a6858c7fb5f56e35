// The sentences of meters and records, fetched with their screens.
import en from "./en.record.json";
import { addEnglish } from "./words.svelte";

addEnglish(en);
