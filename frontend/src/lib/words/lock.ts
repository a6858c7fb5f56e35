// The sentences of the lock and of what belongs to one's own phone, fetched with their screens.
import en from "./en.lock.json";
import { addWords } from "./words.svelte";

addWords(en, { de: [() => import("./de.lock.json")] });
