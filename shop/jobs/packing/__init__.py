"""From a template and what is known to a pack: everything worked out once, nothing guessed."""

from shop.jobs.packing.pack import make_pack, pack_bytes

__all__ = ["make_pack", "pack_bytes"]
