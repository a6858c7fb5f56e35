"""The smallest valid suppliers, parts, bins and levels."""

import factory

from shop.calc.codes import Kind, make_code
from shop.core.ids import new_id
from shop.stock.models import (
    Bin,
    Move,
    OrderLine,
    Part,
    Place,
    PurchaseOrder,
    StockLevel,
    Supplier,
)
from tests.factories.core import NOW, PersonFactory


class SupplierFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Supplier

    name = factory.Sequence(lambda n: f"Supplier {n}")
    email = factory.Sequence(lambda n: f"orders{n}@supplier.example")


class PartFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Part

    code = factory.Sequence(lambda n: make_code(Kind.PART, f"{n:06d}"))
    name = factory.Sequence(lambda n: f"Part {n}")
    supplier = factory.SubFactory(SupplierFactory)
    reorder_level = 2
    order_up_to = 10


class BinFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Bin

    code = factory.Sequence(lambda n: make_code(Kind.BIN, f"{n:06d}"))
    name = factory.Sequence(lambda n: f"Bin {n}")


class StockLevelFactory(factory.django.DjangoModelFactory):
    """A level with the move that filled it, so that the books agree."""

    class Meta:
        model = StockLevel
        skip_postgeneration_save = True

    part = factory.SubFactory(PartFactory)
    bin = factory.SubFactory(BinFactory)
    on_hand = 5

    @factory.post_generation
    def filled(self, create, extracted, **kwargs):
        if create and self.on_hand:
            Move.objects.create(
                id=new_id(),
                part=self.part,
                bin=self.bin,
                quantity=self.on_hand,
                from_place=Place.SUPPLIER,
                to_place=Place.BIN,
                by=PersonFactory(),
                at=NOW,
            )


class PurchaseOrderFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = PurchaseOrder

    number = factory.Sequence(lambda n: n + 1)
    supplier = factory.SubFactory(SupplierFactory)
    created_at = NOW


class OrderLineFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = OrderLine

    order = factory.SubFactory(PurchaseOrderFactory)
    part = factory.SubFactory(PartFactory)
    quantity = 8
