"""Everything that can be read, on whichever connection its subclass gives: the store's own or a transaction's."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from contextlib import AbstractContextManager

from sqlalchemy import Connection

from trainer.core.records import EvidenceRow, Json, Record, SiteFigures, StayRow
from trainer.store import (
    codes,
    coding,
    drafts,
    evidence,
    foreign,
    heads,
    ledger,
    people,
    pins,
    sessions,
    texts,
    tries,
    views,
)
from trainer.store.bundles import Bundle, TextKept
from trainer.store.keys import Keys
from trainer.store.shapes import Code, Draft, Head, Moment, News, Person, Session, SignedHead, Tries

__all__ = ["Reading"]


class Reading:
    """The reading half that ``Store`` and ``Transaction`` share.

    ``site`` is this site's id, ``store_id`` a name that no other store has, ``keys`` the secrets beside the database.
    """

    def __init__(self, site: str, store_id: str, keys: Keys) -> None:
        self.site = site
        self.store_id = store_id
        self.keys = keys
        self._figures: tuple[str, SiteFigures] | None = None

    def _connection(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    # ledger

    def record(self, record_id: str) -> Record | None:
        """The record with that id, voided or not; ``None`` where there is none."""
        with self._connection() as connection:
            return ledger.find(connection, record_id)

    def records(
        self, *, kinds: Collection[str] = (), hand: str | None = None, site: str | None = None
    ) -> Iterator[Record]:
        """The records by site, then seq, voided ones and voids included; only of those kinds, that hand, that site.

        They are read page by page, so that a long ledger needs little memory.
        """
        after: tuple[str, int] | None = ("", 0)
        while after is not None:
            with self._connection() as connection:
                page = ledger.page(connection, after, kinds=kinds, hand=hand, site=site)
            yield from page
            after = (page[-1].site, page[-1].seq) if len(page) == ledger.PAGE else None

    def newest(self, kind: str, most: int) -> list[Record]:
        """The last records of that kind that this site wrote, the newest first, ``most`` of them at the most."""
        with self._connection() as connection:
            return ledger.newest(connection, kind, self.site, most)

    def heads(self) -> tuple[Head, ...]:
        """The last record of each site's chain, by site."""
        with self._connection() as connection:
            return heads.read(connection)

    def heads_digest(self) -> str:
        """A hex SHA-256 that changes with every record written: the key of whatever is worked out from the ledger."""
        return heads.digest(self.heads())

    def signed_head(self) -> SignedHead:
        """This site's own head, signed now."""
        own = next(each for each in self.heads() if each.site == self.site)
        return heads.signed(own, self.keys)

    def kept_heads(self) -> tuple[SignedHead, ...]:
        """Every signed head kept here: this site's own from its exports, others' from bundles; by site, then seq."""
        with self._connection() as connection:
            return foreign.heads_kept(connection)

    def hashes(self, site: str, seq: int) -> tuple[str, ...]:
        """The hash of that record of that site; none where the chain is shorter."""
        with self._connection() as connection:
            return ledger.hashes(connection, site, seq)

    def forks(self) -> Mapping[str, int]:
        """Each site of which two different chains are known, with the seq from which on neither counts."""
        with self._connection() as connection:
            return foreign.forks_of(connection)

    def doubtful(self) -> Mapping[str, str]:
        """Record id to why its clock is doubted: ``ahead`` or ``back``."""
        with self._connection() as connection:
            return foreign.doubtful(connection)

    def bundle(self, at: str) -> Bundle:
        """Everything here that another site may take in, as of ``at``, with this site's head signed now."""
        head = self.signed_head()
        with self._connection() as connection:
            return Bundle(
                site=self.site,
                at=at,
                heads=tuple(dict.fromkeys((*foreign.heads_kept(connection), head))),
                records=tuple(coding.record_json(each) for each in self.records()),
                aside=tuple(foreign.stands_aside(connection)),
                people=tuple(people.everybody(connection).values()),
                texts=tuple(TextKept(*row) for row in texts.all_of(connection)),
            )

    def site_figures(self) -> SiteFigures:
        """The figures that this site's last ``site`` record gives."""
        with self._connection() as connection:
            last = ledger.last_site_record(connection, self.site)
            # Asked for on every run, changed once a year: decoded again only when another record gives them.
            if self._figures is None or self._figures[0] != last:
                self._figures = (last, ledger.figures(connection, last))
            return self._figures[1]

    @property
    def tz(self) -> str:
        """The site's time zone, an IANA name."""
        return self.site_figures().tz

    # what the matrix reads

    def evidence_rows(
        self, *, after: Mapping[str, int] | None = None, hands: Collection[str] | None = None
    ) -> list[EvidenceRow]:
        """The evidence rows by (day, at, site, seq), without voided ones.

        ``after`` leaves out what stands up to that seq in each site (a site not named is given whole); ``hands`` leaves
        out everybody else. Keep what ``gone(after=...)`` names out of what was read before.
        """
        with self._connection() as connection:
            return evidence.evidence_rows(connection, after, hands)

    def stay_rows(
        self, *, after: Mapping[str, int] | None = None, hands: Collection[str] | None = None
    ) -> list[StayRow]:
        """The joined, moved and left rows by (day, at, site, seq), without voided ones; arguments as above."""
        with self._connection() as connection:
            return evidence.stay_rows(connection, after, hands)

    def voids(self) -> Mapping[str, str]:
        """Record id to the id of the ``void`` that took it out.

        A stood-down written with a voided observation is in it too, under that observation's void.
        """
        with self._connection() as connection:
            return evidence.voids_of(connection, None)

    def gone(self, *, after: Mapping[str, int]) -> frozenset[str]:
        """The ids of the records that voids written after those seqs took out."""
        with self._connection() as connection:
            return frozenset(evidence.voids_of(connection, after))

    def news(self, after: Moment | None = None) -> News:
        """What the matrix reads that was written since ``after``, everything without one, as of one moment.

        With another fork known than then it is everything again: rows went without a void. So it is where the chains of
        then are not those from which this store went on: a backup was put in its place.
        """
        with self._connection() as connection:
            now = Moment(heads.read(connection), foreign.forks_of(connection))
            is_more = after is not None and after.forks == now.forks and _goes_on(connection, after)
            known = {each.site: each.seq for each in after.heads} if after is not None and is_more else None
            return News(
                moment=now,
                is_all=known is None,
                gone=frozenset(evidence.voids_of(connection, known)) if known is not None else frozenset(),
                evidence=evidence.evidence_rows(connection, known, None),
                stays=evidence.stay_rows(connection, known, None),
            )

    def hands_in(self, crew: str) -> list[str]:
        """Everybody who ever joined or moved to that crew, by hand_id."""
        with self._connection() as connection:
            return evidence.hands_in(connection, crew)

    def places(self) -> list[tuple[str, str]]:
        """Each crew and position that somebody ever had together, sorted."""
        with self._connection() as connection:
            return evidence.places(connection)

    # people

    def people(self, hands: Collection[str] | None = None) -> Mapping[str, Person]:
        """Everybody with a name here, by hand_id, of ``hands`` only where given; somebody erased is not in it."""
        with self._connection() as connection:
            return people.everybody(connection, hands)

    def person(self, hand_id: str) -> Person | None:
        """That person; ``None`` where unknown or erased."""
        with self._connection() as connection:
            return people.find(connection, hand_id)

    def text(self, key: str) -> str | None:
        """The free text behind a body's HMAC; ``None`` where it was erased or never was on this site."""
        with self._connection() as connection:
            return texts.find(connection, key)

    def texts(self) -> Mapping[str, str]:
        """Every free text and name from outside by its key, for whoever would ask for thousands one by one."""
        with self._connection() as connection:
            return {key: text for key, _, text, _ in texts.all_of(connection)}

    # drafts

    def draft(self, draft_id: str) -> Draft | None:
        """That draft; ``None`` where there is none (any more)."""
        with self._connection() as connection:
            return drafts.find(connection, draft_id)

    def drafts(
        self, *, owner: str | None = None, kind: str | None = None, subject: str | None = None
    ) -> tuple[Draft, ...]:
        """The drafts by opened, then id; only that owner's, of that kind, about that subject."""
        with self._connection() as connection:
            return drafts.listed(connection, owner, kind, subject)

    def answers(self, draft_id: str) -> Mapping[int, tuple[Json, bool]]:
        """Position to (answer, whether it is final). Lists stand where tuples were put in."""
        with self._connection() as connection:
            return drafts.answers_of(connection, draft_id)

    def view(self, owner: str, name: str) -> Mapping[str, Json] | None:
        """What ``owner`` last had chosen on the screen ``name``: filters, sorting; ``None`` where nothing is kept."""
        with self._connection() as connection:
            return views.find(connection, owner, name)

    # signing in

    def pin(self, hand_id: str) -> str | None:
        """The hash of that person's PIN; ``None`` where none was set."""
        with self._connection() as connection:
            return pins.find(connection, hand_id)

    def with_pin(self) -> frozenset[str]:
        """The hand_ids of everybody who has set a PIN."""
        with self._connection() as connection:
            return pins.hands(connection)

    def code(self, hand_id: str) -> Code | None:
        """That person's one-use code, hashed, run out or not; ``None`` where there is none."""
        with self._connection() as connection:
            return codes.find(connection, hand_id)

    def codes(self) -> Mapping[str, Code]:
        """Everybody's one-use code, hashed, run out or not, by hand_id."""
        with self._connection() as connection:
            return codes.everybody(connection)

    def tries(self, hand_id: str, device: str) -> Tries:
        """The wrong PINs in a row of that person on that device."""
        with self._connection() as connection:
            return tries.find(connection, hand_id, device)

    def session(self, session_id: str) -> Session | None:
        """That session, open or ended; ``None`` where there never was one."""
        with self._connection() as connection:
            return sessions.find(connection, session_id)


def _goes_on(connection: Connection, after: Moment) -> bool:
    """Whether each head of then stands in this store's chains."""
    return all(ledger.hashes(connection, head.site, head.seq) == (head.hash,) for head in after.heads)
