#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/unit_system.hpp>

#include <span>
#include <string>
#include <string_view>

#include "report/kit/page.hpp"

namespace leastwise::report {

// The pages of the three kinds of answer, and what they share.

void write_blend(Page& page, const Blend& blend);
void write_conflict(Page& page, const Conflict& conflict);
void write_stopped(Page& page, const Stopped& stopped);

/// That the answer, a `blend` or a `plan`, is the cheapest, and how far that was checked.
[[nodiscard]] std::string proof_sentence(std::string_view answer, std::string_view whose,
                                         const Certificate& certificate);

/// How far this rule of a conflict alone would have to give way, and where that ends.
[[nodiscard]] std::string giving_way(const ConflictingRule& rule);

/// What the blend holds beside what was asked; nothing when nothing is known of it.
void write_supply(Page& page, const Blend& blend);

/// What the blend leaves out, and at which price it would come in.
void write_unused(Page& page, const Blend& blend);

/// Whether `note` is one of the pairs that are listed together.
[[nodiscard]] bool is_limited_pair(const Note& note);

/// The notes that go with an answer, warnings first; nothing when there are none.
void write_notes(Page& page, std::span<const Note> notes);

/// The cautions for handling that apply and that no note has said yet.
void write_safety(Page& page, std::span<const Portion> portions, std::span<const Supply> supply,
                  std::span<const Note> notes);

/// A page that shows no goods; in HTML it carries the cautions that always apply.
[[nodiscard]] Page without_goods(Page page);

/// ` (file:line)`, or nothing without a place.
[[nodiscard]] std::string place_text(const Place& place);

/// `ha` or `t`; `acre` or `short ton`.
[[nodiscard]] inline std::string_view unit_of_basis(Basis basis, Units units = Units::metric) {
  return unit_name(basis == Basis::per_hectare ? Measure::land : Measure::goods, units);
}

/// `kg/ha` or `kg/t`; `lb/acre` or `lb/short ton`.
[[nodiscard]] inline std::string_view amount_unit(Basis basis, Units units) {
  return unit_name(basis == Basis::per_hectare ? Measure::rate : Measure::dose, units);
}

}  // namespace leastwise::report
