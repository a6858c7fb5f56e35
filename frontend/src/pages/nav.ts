import type { Role } from "$lib/api/shapes";
import type { WordKey } from "$lib/words";

export interface NavLink {
  href: string;
  word: WordKey;
  icon: string;
}

const BENCH: NavLink = { href: "/app/bench", word: "nav.bench", icon: "lightbulb" };
const SCAN: NavLink = { href: "/app/scan", word: "nav.scan", icon: "scan-line" };
const FIND: NavLink = { href: "/app/find", word: "nav.find", icon: "search" };
const BOOK_IN: NavLink = { href: "/app/book-in", word: "nav.book_in", icon: "plus" };
const DESK: NavLink = { href: "/app/desk", word: "nav.desk", icon: "clipboard-list" };
const BOARD: NavLink = { href: "/app/board", word: "nav.board", icon: "list" };
const CALCULATORS: NavLink = { href: "/app/calculators", word: "nav.calculate", icon: "calculator" };
const ACCOUNT: NavLink = { href: "/app/account", word: "nav.account", icon: "user" };

/** What each role finds at the foot of its screen (at the top on a desktop). Five at most. */
export const NAV: Record<Role, NavLink[]> = {
  tech: [BENCH, SCAN, CALCULATORS, FIND, ACCOUNT],
  desk: [DESK, BOOK_IN, SCAN, FIND, ACCOUNT],
  manager: [BOARD, DESK, FIND, SCAN, ACCOUNT],
};
