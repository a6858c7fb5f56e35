import type { Me } from "$lib/api/shapes";

const shop = {
  name: "Test bench",
  currency: "EUR",
  minor_digits: 2,
  country: "DE",
  bench_volt: 230,
  bench_hz: 50,
  safety_scheme: "scheme",
  public_url: null,
  public_url_note: null,
  time_zone: "Europe/Berlin",
};

/** A tech; `name` also makes the ids. */
export function tech(name: string): Me {
  const device = { id: "device-1", name: "blue phone" };
  return { id: `person-${name}`, username: name, name, role: "tech", language: "en", device, shop };
}
