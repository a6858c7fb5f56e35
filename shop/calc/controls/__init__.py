"""Controls under the fingers: encoders that count, tracks that crackle."""

from shop.calc.controls import encoder, potentiometer

__all__ = ["encoder", "potentiometer"]
