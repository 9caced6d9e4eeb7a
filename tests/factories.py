"""Makes the people and the parts that the tests need."""

import factory
from django.contrib.auth import get_user_model

from jobs import models as job_models
from jobs.stages.progress import create_stages
from parts import models

PASSWORD = "balance-cock-7"


class UserFactory(factory.django.DjangoModelFactory):
    """A person with an account."""

    class Meta:
        model = get_user_model()
        skip_postgeneration_save = True

    username = factory.Sequence(lambda n: f"bench{n}")
    password = factory.django.Password(PASSWORD)


class CaseFamilyFactory(factory.django.DjangoModelFactory):
    """A family of cases."""

    class Meta:
        model = models.CaseFamily

    name = factory.Sequence(lambda n: f"Family {n}")


class CaseFactory(factory.django.DjangoModelFactory):
    """A case that takes the movement and the dial of the other factories; everything is measured."""

    class Meta:
        model = models.Case

    family = factory.SubFactory(CaseFamilyFactory)
    name = factory.Sequence(lambda n: f"case {n}")
    bore_diameter = 26.20
    bore_diameter_pm = 0.02
    dial_seat_diameter = 26.00
    dial_opening_diameter = 25.00
    stem_axis_depth = 2.40
    back_depth = 4.20
    crystal_gap_centre = 2.50
    stem_angle = 90.0
    crown_seat_radius = 14.00
    tube_bore_diameter = 1.30
    tube_outer_diameter = 2.00


class DialFootFactory(factory.django.DjangoModelFactory):
    """A foot at 55 degrees."""

    class Meta:
        model = models.DialFoot

    dial = factory.SubFactory("tests.factories.DialFactory", feet=False)
    angle = 55.0
    radius = 11.00
    diameter = 0.70


class DialFurnitureFactory(factory.django.DjangoModelFactory):
    """A ring of markers."""

    class Meta:
        model = models.DialFurniture

    dial = factory.SubFactory("tests.factories.DialFactory", furniture=False)
    name = "markers"
    inner_radius = 8.80
    outer_radius = 11.40
    height = 0.30


class DialFactory(factory.django.DjangoModelFactory):
    """A dial with two feet and markers, no window; dated=True gives it one at 3 o'clock."""

    class Meta:
        model = models.Dial
        skip_postgeneration_save = True

    class Params:
        dated = factory.Trait(
            has_window=True,
            window_angle=90.0,
            window_radius=10.20,
            window_radial=2.00,
            window_tangential=1.60,
        )

    name = factory.Sequence(lambda n: f"dial {n}")
    diameter = 25.90
    thickness = 0.40
    centre_hole_diameter = 1.70
    minute_track_radius = 11.80
    hour_marker_inner_radius = 8.80
    feet_recorded = True
    has_window = False

    @factory.post_generation
    def feet(self, create, given, **_):
        if create and given is not False:
            DialFootFactory(dial=self, angle=55.0)
            DialFootFactory(dial=self, angle=235.0)

    @factory.post_generation
    def furniture(self, create, given, **_):
        if create and given is not False:
            DialFurnitureFactory(dial=self)


class FootHoleFactory(factory.django.DjangoModelFactory):
    """A hole that takes a foot at 55 degrees, the stem standing at 3 o'clock."""

    class Meta:
        model = models.FootHole

    movement = factory.SubFactory("tests.factories.MovementFactory", foot_holes=False)
    angle = -35.0
    radius = 11.00
    diameter = 0.75


class MovementFactory(factory.django.DjangoModelFactory):
    """A quartz movement with two foot holes, no date; dated=True gives it one that shows at 3 o'clock."""

    class Meta:
        model = models.Movement
        skip_postgeneration_save = True

    class Params:
        dated = factory.Trait(
            has_date=True,
            date_angle=0.0,
            date_numeral_radius=10.20,
            date_numeral_radial=1.10,
            date_numeral_tangential=1.30,
            date_disc_inner_radius=9.00,
            date_disc_outer_radius=11.50,
        )

    name = factory.Sequence(lambda n: f"movement {n}")
    kind = models.Movement.Kind.QUARTZ
    declared_size = "11 1/2'''"
    fit_diameter = 26.10
    overall_diameter = 26.15
    stem_axis_depth = 2.00
    back_height = 3.50
    stem_thread = 0.90
    stem_reference_radius = 12.00
    post_hour_diameter = 1.50
    post_hour_height = 1.30
    post_minute_diameter = 0.90
    post_minute_height = 1.90
    post_seconds_diameter = 0.20
    post_seconds_height = 2.50
    foot_holes_recorded = True
    has_date = False
    unbalance_hour = 0.70
    unbalance_minute = 0.70
    unbalance_seconds = 0.08
    cell_type = "SR621"
    cell_capacity = 23.0
    current = 1.0
    rate_low_s_per_day = -0.7
    rate_high_s_per_day = 0.7

    @factory.post_generation
    def foot_holes(self, create, given, **_):
        if create and given is not False:
            FootHoleFactory(movement=self, angle=-35.0)
            FootHoleFactory(movement=self, angle=145.0)


class HandFactory(factory.django.DjangoModelFactory):
    """An hour hand."""

    class Meta:
        model = models.Hand

    hand_set = factory.SubFactory("tests.factories.HandSetFactory", hands=False)
    role = models.Hand.Role.HOUR
    hole_diameter = 1.49
    length = 8.00
    tail = 0.0
    thickness = 0.15
    hub_height = 0.50
    hub_diameter = 2.20
    mass = 12.0
    centre_of_mass = 2.50


class HandSetFactory(factory.django.DjangoModelFactory):
    """Three hands that press onto the posts of the movement factory; seconds=False leaves one away."""

    class Meta:
        model = models.HandSet
        skip_postgeneration_save = True

    name = factory.Sequence(lambda n: f"hands {n}")

    @factory.post_generation
    def hands(self, create, given, **_):
        if create and given is not False:
            HandFactory(hand_set=self)
            HandFactory(
                hand_set=self,
                role="minute",
                hole_diameter=0.89,
                length=11.50,
                hub_height=0.40,
                hub_diameter=1.60,
                mass=9.0,
                centre_of_mass=4.00,
            )

    @factory.post_generation
    def seconds(self, create, given, **_):
        if create and given is not False:
            HandFactory(
                hand_set=self,
                role="seconds",
                hole_diameter=0.19,
                length=12.00,
                tail=4.00,
                thickness=0.10,
                hub_height=0.40,
                hub_diameter=1.00,
                mass=3.0,
                centre_of_mass=0.80,
            )


class StemFactory(factory.django.DjangoModelFactory):
    """A long stem with a 0.90 thread."""

    class Meta:
        model = models.Stem

    name = factory.Sequence(lambda n: f"stem {n}")
    thread = 0.90
    length = 12.00


class CrownFactory(factory.django.DjangoModelFactory):
    """A push crown with a 0.90 thread."""

    class Meta:
        model = models.Crown

    name = factory.Sequence(lambda n: f"crown {n}")
    style = models.Crown.Style.PUSH
    thread = 0.90
    bore_depth = 2.50
    tube_bore_diameter = 2.10


class PairingFactory(factory.django.DjangoModelFactory):
    """Parts of the other factories, which go together with a trimmed stem."""

    class Meta:
        model = models.Pairing

    name = factory.Sequence(lambda n: f"pairing {n}")
    case = factory.SubFactory(CaseFactory)
    dial = factory.SubFactory(DialFactory)
    movement = factory.SubFactory(MovementFactory)
    hands = factory.SubFactory(HandSetFactory)
    stem = factory.SubFactory(StemFactory)
    crown = factory.SubFactory(CrownFactory)


class CustomerFactory(factory.django.DjangoModelFactory):
    """A customer who prefers phone."""

    class Meta:
        model = job_models.Customer

    name = factory.Sequence(lambda n: f"Customer {n}")
    phone = "555 0100"
    reach = job_models.Customer.Reach.PHONE


class JobFactory(factory.django.DjangoModelFactory):
    """A job with its stages, just logged; no luminous paint."""

    class Meta:
        model = job_models.Job
        skip_postgeneration_save = True

    number = factory.Sequence(lambda n: f"26-{n + 1:03d}")
    customer = factory.SubFactory(CustomerFactory)
    case_family = factory.SubFactory(CaseFamilyFactory)
    wish = "A quartz movement that shows the date."
    luminous = job_models.Job.Luminous.NONE

    @factory.post_generation
    def stages(self, create, given, **_):
        if create:
            create_stages(self)
