"""The firm before its first call: people, crews, account, rates, merchants, prices."""

from dataclasses import dataclass, field
from datetime import datetime

from firm.actions import firm as firm_actions
from firm.actions import person as person_actions
from firm.engine.trade.materials import PRODUCTS
from firm.management.demo import above, told
from firm.management.demo.days import Days
from firm.management.demo.people import PASSWORD
from firm.models import Crew, Person


@dataclass(slots=True)
class Cast:
    """Who and what the stories name: people by email, the others by name."""

    people: dict[str, Person] = field(default_factory=dict)
    crews: dict[str, Crew] = field(default_factory=dict)
    merchants: dict[str, int] = field(default_factory=dict)

    @property
    def owner(self) -> Person:
        return self.people["owner@example.com"]

    @property
    def office(self) -> Person:
        return self.people["office@example.com"]

    @property
    def books(self) -> Person:
        return self.people["books@example.com"]

    def lead_of(self, crew: str) -> Person:
        leads = (p for p in self.people.values() if p.role == Person.Role.CREW_LEAD)
        return next(p for p in leads if p.crew_id == self.crews[crew].pk)


def open_the_firm(setting: told.Setting, *, days: Days, now: datetime) -> Cast:
    cast = Cast()
    owner = _owner(setting, cast)
    _write_down(setting, by=owner, now=now)
    for crew in setting.crews:
        cast.crews[crew.name] = firm_actions.add_crew(
            name=crew.name,
            plasterers=crew.plasterers,
            labourers=crew.labourers,
            by=owner,
            now=now,
        )
    for person in setting.people[1:]:
        cast.people[person.email] = _person(person, setting, cast, now)
    for merchant in setting.merchants:
        cast.merchants[merchant.name] = _merchant(merchant, by=owner, now=now)
    for off in setting.time_off:
        firm_actions.give_time_off(
            crew=cast.crews[off.crew],
            first_on=days.on(off.first),
            last_on=days.on(off.last),
            reason=off.reason,
            by=owner,
            now=now,
        )
    return cast


def _owner(setting: told.Setting, cast: Cast) -> Person:
    """Make the first person, as the command first_owner does: nobody else could."""
    first = setting.people[0]
    owner = Person.objects.create_user(
        first.email, PASSWORD, name=first.name, role=first.role, phone=first.phone
    )
    cast.people[owner.email] = owner
    return owner


def _write_down(setting: told.Setting, *, by: Person, now: datetime) -> None:
    firm = setting.firm
    firm_actions.set_firm(
        name=firm.name,
        address=firm.address,
        postcode=firm.postcode,
        phone=firm.phone,
        email=firm.email,
        is_vat_registered=True,
        vat_number=firm.vat_number,
        by=by,
        now=now,
    )
    firm_actions.set_payee(
        account_name=firm.account_name,
        sort_code=firm.sort_code,
        account_number=firm.account_number,
        by=by,
        now=now,
    )
    above.rates.set_rates(by=by, now=now, **setting.rates)
    for own in setting.own_figures:
        firm_actions.set_figure(
            code=own.code, value=own.value, reason=own.reason, by=by, now=now
        )


def _person(
    person: told.PersonTold, setting: told.Setting, cast: Cast, now: datetime
) -> Person:
    made = person_actions.add_person(
        name=person.name,
        email=person.email,
        phone=person.phone,
        role=person.role,
        crew=cast.crews.get(person.crew),
        firm_name=setting.firm.name,
        by=cast.owner,
        now=now,
    )
    made.set_password(PASSWORD)
    made.save(update_fields=["password"])
    return made


def _merchant(merchant: told.MerchantTold, *, by: Person, now: datetime) -> int:
    made = above.merchant.save_merchant(
        None,
        name=merchant.name,
        email=merchant.email,
        phone=merchant.phone,
        lead_working_days=merchant.lead_working_days,
        by=by,
        now=now,
    )
    for code, price_gbp in merchant.prices.items():
        above.merchant.set_price(
            made.pk,
            item_code=code,
            pack=PRODUCTS[code].pack_name,
            price_gbp=price_gbp,
            by=by,
            now=now,
        )
    return int(made.pk)
