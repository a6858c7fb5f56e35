// The sentences of what waits on the phone and of what the phone holds, fetched with the parts that say them.
import en from "./en.queue.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.queue.json")] });
