#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <cstdlib>
#include <stop_token>

#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// More for a longer look:  LEASTWISE_STOP_SCENARIOS=2000 property_tests -ts=stops
std::uint64_t scenarios_stopped() {
  const char* text = std::getenv("LEASTWISE_STOP_SCENARIOS");
  return text == nullptr ? 200 : std::strtoull(text, nullptr, 10);
}

struct Counted {
  Formulation answer;
  long programs = 0;
};

/// The answer when a stop is asked for as linear program `last` is told of; 0: never.
Counted answer_until(const Scenario& scenario, long last) {
  std::stop_source source;
  long programs = 0;
  SolveOptions options;
  options.stop = source.get_token();
  options.progress = [&](const Progress&) {
    if (++programs == last) source.request_stop();
  };
  auto answer = formulate(scenario, options);
  return {std::move(answer), programs};
}

/// What is stated equals the complete answer; what is not is marked as not computed.
template <class T>
void check_part(const Known<T>& part, const Known<T>& whole) {
  if (part.is_computed()) CHECK(part == whole);
}

template <class Line, class Same>
const Line* line_of(const std::vector<Line>& lines, Same same) {
  const auto found = std::find_if(lines.begin(), lines.end(), same);
  return found == lines.end() ? nullptr : &*found;
}

void check_partial_binding(const Blend& part, const Blend& whole) {
  for (const auto& rule : part.binding) {
    CAPTURE(rule.rule);
    const auto* same =
        line_of(whole.binding, [&](const BindingRule& r) { return r.id == rule.id; });
    REQUIRE(same != nullptr);
    CHECK(rule.shadow_price == same->shadow_price);
    check_part(rule.price_below, same->price_below);
    check_part(rule.price_above, same->price_above);
    check_part(rule.holds_from, same->holds_from);
    check_part(rule.holds_to, same->holds_to);
    if (rule.unique) CHECK(rule.unique == same->unique);
  }
  if (part.binding_complete) CHECK(part.binding.size() == whole.binding.size());
}

/// Returns: whether anything is marked as not computed.
bool check_partial_blend(const Blend& part, const Blend& whole) {
  CHECK(part.cost_per_t == whole.cost_per_t);
  check_partial_binding(part, whole);
  REQUIRE(part.unused.size() == whole.unused.size());
  bool missing = !part.binding_complete || !part.exclusions_complete;
  for (std::size_t i = 0; i < part.unused.size(); ++i) {
    CAPTURE(part.unused[i].material);
    CHECK(part.unused[i].why == whole.unused[i].why);
    check_part(part.unused[i].enters_below_price_per_t, whole.unused[i].enters_below_price_per_t);
    missing = missing || !part.unused[i].enters_below_price_per_t.is_computed();
  }
  for (const auto& cost : part.exclusions) {
    const auto* same = line_of(whole.exclusions, [&](const ExclusionCost& e) {
      return e.family_a == cost.family_a && e.family_b == cost.family_b;
    });
    REQUIRE(same != nullptr);
    CHECK(cost.costs_per_t == same->costs_per_t);
  }
  if (part.exclusions_complete) CHECK(part.exclusions.size() == whole.exclusions.size());
  for (const auto& rule : part.binding)
    missing = missing || (!rule.unique && rule.id.kind != RuleKind::bins) ||
              (rule.id.kind != RuleKind::bins &&
               !(rule.holds_from.is_computed() && rule.holds_to.is_computed()));
  return missing;
}

/// Returns: whether anything is marked as not computed.
bool check_partial_conflict(const Conflict& part, const Conflict& whole) {
  bool missing = !part.irreducible || !part.nearest_blend.is_computed();
  if (part.irreducible) CHECK(part.rules.size() == whole.rules.size());
  for (const auto& rule : part.rules) {
    missing = missing || !rule.shortfall.is_computed();
    const auto* same =
        line_of(whole.rules, [&](const ConflictingRule& r) { return r.id == rule.id; });
    if (!part.irreducible) {
      CHECK_FALSE((rule.limit && rule.shortfall));
      continue;
    }
    CAPTURE(rule.rule);
    REQUIRE(same != nullptr);
    check_part(rule.shortfall, same->shortfall);
    check_part(rule.ends_below, same->ends_below);
    check_part(rule.ends_above, same->ends_above);
  }
  if (part.nearest_blend.is_none()) CHECK(whole.nearest_blend.is_none());
  if (part.nearest_blend && part.nearest_is_least)
    CHECK(*part.nearest_cost_per_t == *whole.nearest_cost_per_t);
  return missing;
}

bool says_not_finished(const std::vector<Note>& notes) {
  return std::any_of(notes.begin(), notes.end(),
                     [](const Note& note) { return note.code == NoteCode::not_finished; });
}

}  // namespace

TEST_SUITE("stops") {
  TEST_CASE("stopped after any linear program, an answer states nothing but the truth") {
    int blends = 0;
    int conflicts = 0;
    int partial = 0;
    for (std::uint64_t seed = 0; seed < scenarios_stopped(); ++seed) {
      CAPTURE(seed);
      const auto scenario = random_scenario(seed, {.materials = 3 + static_cast<int>(seed % 7)});
      const auto whole = answer_until(scenario, 0);
      ++(whole.answer.blend() != nullptr ? blends : conflicts);
      const long step = std::max(1L, whole.programs / 40);
      for (long last = 1; last <= whole.programs; last += step) {
        CAPTURE(last);
        const auto part = answer_until(scenario, last);
        if (part.answer.stopped() != nullptr) continue;
        REQUIRE(part.answer.status() == whole.answer.status());
        const auto* blend = part.answer.blend();
        const bool missing = blend != nullptr ? check_partial_blend(*blend, *whole.answer.blend())
                                              : check_partial_conflict(*part.answer.conflict(),
                                                                       *whole.answer.conflict());
        const auto& notes = blend != nullptr ? blend->notes : part.answer.conflict()->notes;
        if (missing) ++partial;
        CHECK(says_not_finished(notes) == missing);
      }
    }
    MESSAGE(blends, " blends, ", conflicts, " conflicts, ", partial, " partial answers");
    CHECK(blends > 0);
    CHECK(conflicts > 0);
    CHECK(partial > blends);
  }
}
