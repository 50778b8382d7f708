#include <doctest/doctest.h>
#include <leastwise/alternatives.hpp>
#include <leastwise/compare.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/risk.hpp>
#include <leastwise/rounding.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <stop_token>
#include <string>

#include "support/generator.hpp"

// Stopped after any linear program, each kind of answer states what the complete one states, or
// says that it does not know.

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// More for a longer look:  LEASTWISE_STOP_LANDSCAPES=300 property_tests -ts="stops of landscapes"
std::uint64_t landscapes_stopped() {
  const char* text = std::getenv("LEASTWISE_STOP_LANDSCAPES");
  return text == nullptr ? 24 : std::strtoull(text, nullptr, 10);
}

bool equal(double a, double b) { return std::fabs(a - b) <= 1e-9 * std::max(1.0, std::fabs(b)); }

void check_stated(const std::optional<double>& part, const std::optional<double>& whole) {
  if (!part) return;
  REQUIRE(whole.has_value());
  CHECK(equal(*part, *whole));
}

/// How often answers were stopped, and how often they stated something all the same.
struct StopsSeen {
  int stopped = 0;
  int partial = 0;
};

/// Asks `question` to the end, then with a stop after each of up to 24 linear programs, and has
/// `check(part, whole)` look at what is stated; it returns whether anything is.
template <class Question, class Check>
void check_each_stop(Question question, Check check, StopsSeen& seen) {
  long programs = 0;
  SolveOptions limits;
  limits.progress = [&](const Progress&) { ++programs; };
  const auto whole = question(limits);
  if (whole.outcome.status == Status::stopped) return;  // numerical trouble has no whole answer
  const long all = programs;
  for (long last = 1; last <= all; last += std::max(1L, all / 24)) {
    CAPTURE(last);
    std::stop_source source;
    programs = 0;
    limits.stop = source.get_token();
    limits.progress = [&](const Progress&) {
      if (++programs == last) source.request_stop();
    };
    const auto part = question(limits);
    if (part.outcome.status == Status::stopped) {
      ++seen.stopped;
      CHECK(part.outcome.cause == StopCause::cancelled);
      CHECK_FALSE(part.outcome.detail.empty());
      CHECK_FALSE(part.outcome.conflict.has_value());
    } else {
      CHECK(part.outcome.status == whole.outcome.status);
    }
    if (check(part, whole)) ++seen.partial;
  }
}

bool check_list(const Alternatives& part, const Alternatives& whole) {
  REQUIRE(part.list.size() <= whole.list.size());
  for (std::size_t k = 0; k < part.list.size(); ++k) {
    CHECK(part.list[k].materials == whole.list[k].materials);
    CHECK(equal(part.list[k].cost, whole.list[k].cost));
    CHECK(equal(part.list[k].difference, whole.list[k].difference));
  }
  if (part.exhausted) CHECK(whole.exhausted);
  if (part.outcome.status == Status::optimal) CHECK(part.list.size() == whole.list.size());
  return !part.list.empty();
}

bool check_wish(const NearOptimum& part, const NearOptimum& whole) {
  check_stated(part.best_cost, whole.best_cost);
  check_stated(part.cost_limit, whole.cost_limit);
  check_stated(part.value_at_best, whole.value_at_best);
  check_stated(part.value, whole.value);
  check_stated(part.cost, whole.cost);
  CHECK(part.blend.has_value() == part.cost.has_value());
  return part.best_cost.has_value();
}

bool check_bands(const PriceMap& part, const PriceMap& whole) {
  double end = part.from;
  for (const auto& band : part.bands) {
    CHECK(band.from == end);
    end = band.to;
    const double middle = (band.from + band.to) / 2;
    const auto found = std::ranges::find_if(whole.bands, [&](const PriceBand& other) {
      return other.from <= middle && middle <= other.to;
    });
    REQUIRE(found != whole.bands.end());
    CHECK(equal(band.share_percent, found->share_percent));
    CHECK(equal(band.cost_slope, found->cost_slope));
  }
  if (part.outcome.status == Status::optimal) CHECK(end == part.to);
  return !part.bands.empty();
}

/// Whether `point` lies in a convex polygon whose corners run counter-clockwise.
bool lies_in(const std::vector<PricePoint>& polygon, const PricePoint& point) {
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const PricePoint& a = polygon[k];
    const PricePoint& b = polygon[(k + 1) % polygon.size()];
    const double turn = (b.first - a.first) * (point.second - a.second) -
                        (b.second - a.second) * (point.first - a.first);
    if (turn < -1e-6) return false;
  }
  return true;
}

bool check_regions(const PriceRegions& part, const PriceRegions& whole) {
  double known = 0;
  for (const auto& region : part.regions) {
    known += region.area_percent;
    PricePoint middle;
    for (const auto& corner : region.polygon) {
      middle.first += corner.first / static_cast<double>(region.polygon.size());
      middle.second += corner.second / static_cast<double>(region.polygon.size());
    }
    const auto found = std::ranges::find_if(whole.regions, [&](const PriceRegion& other) {
      return lies_in(other.polygon, middle) && equal(other.first_slope, region.first_slope) &&
             equal(other.second_slope, region.second_slope);
    });
    CHECK(found != whole.regions.end());
  }
  CHECK(known <= 100 * (1 + 1e-9));
  if (part.outcome.status == Status::optimal) CHECK(part.regions.size() == whole.regions.size());
  return !part.regions.empty();
}

/// A comparison, and whether any of its lines was stopped.
struct Compared {
  Comparison comparison{};
  Outcome outcome{};
};

Compared compared(const std::vector<NamedScenario>& scenarios, const SolveOptions& limits) {
  Compared out{compare(scenarios, limits), {}};
  out.outcome = {.status = Status::optimal, .detail = {}};
  for (const auto& line : out.comparison.lines)
    if (const Stopped* stopped = line.answer.stopped())
      out.outcome = {.status = Status::stopped, .cause = stopped->cause, .detail = stopped->detail};
  return out;
}

bool check_lines(const Compared& part, const Compared& whole) {
  REQUIRE(part.comparison.lines.size() == whole.comparison.lines.size());
  bool any = false;
  for (std::size_t k = 0; k < part.comparison.lines.size(); ++k) {
    const auto& mine = part.comparison.lines[k];
    const auto& other = whole.comparison.lines[k];
    check_stated(mine.difference_per_t, other.difference_per_t);
    check_stated(mine.difference_per_ha, other.difference_per_ha);
    if (mine.answer.stopped() != nullptr) continue;
    CHECK(mine.answer.status() == other.answer.status());
    if (const Blend* blend = mine.answer.blend())
      CHECK(equal(blend->cost_per_t, other.answer.blend()->cost_per_t));
    any = true;
  }
  return any;
}

bool check_points(const LimitMap& part, const LimitMap& whole) {
  for (const auto& point : part.points) {
    const auto found = std::ranges::find_if(
        whole.points, [&](const LimitPoint& other) { return other.limit == point.limit; });
    if (found == whole.points.end()) continue;  // on a straight line between two others
    CHECK(point.cost.has_value() == found->cost.has_value());
    check_stated(point.cost, found->cost);
  }
  if (part.exact && part.outcome.status == Status::optimal) CHECK(whole.exact);
  if (part.possible && whole.possible) {
    CHECK(equal(part.possible->min, whole.possible->min));
    CHECK(equal(part.possible->max, whole.possible->max));
  }
  return !part.points.empty();
}

bool check_steps(const RoundedBlend& part, const RoundedBlend& whole) {
  check_stated(part.exact_cost, whole.exact_cost);
  if (part.proven_infeasible) CHECK(whole.proven_infeasible);
  if (part.feasible) CHECK_FALSE(whole.proven_infeasible);
  if (part.cost && part.feasible && whole.proved && whole.feasible)
    CHECK(*part.cost >= *whole.cost - 1e-9 * std::max(1.0, std::fabs(*whole.cost)));
  if (part.lower_bound && whole.feasible && whole.cost)
    CHECK(*part.lower_bound <= *whole.cost + 1e-9 * std::max(1.0, std::fabs(*whole.cost)));
  if (part.proved && part.feasible && whole.proved) CHECK(equal(*part.cost, *whole.cost));
  CHECK(part.cost.has_value() == !part.portions.empty());
  return part.cost.has_value();
}

bool check_draws(const PriceRisk& part, const PriceRisk& whole) {
  check_stated(part.cost_today, whole.cost_today);
  REQUIRE(part.draws <= whole.draws);
  CHECK(part.each.size() == static_cast<std::size_t>(part.draws));
  for (std::size_t k = 0; k < part.each.size(); ++k) {
    CHECK(equal(part.each[k].fixed_cost, whole.each[k].fixed_cost));
    CHECK(equal(part.each[k].reoptimised_cost, whole.each[k].reoptimised_cost));
  }
  if (part.draws == 0) CHECK(std::isnan(part.fixed.mean));
  return part.cost_today.has_value();
}

ScenarioDraft landscape_draft(std::uint64_t seed) {
  auto draft = random_draft(
      seed, {.materials = 4 + static_cast<int>(seed % 6), .sabotage = 0.1, .frills = false});
  PriceUncertainty risk;
  for (std::size_t i = 0; i < draft.materials.size(); i += 2) {
    PriceSpread spread;
    spread.material = draft.materials[i].name;
    spread.shape = PriceShape::normal;
    spread.percent = 8;
    risk.prices.push_back(spread);
  }
  risk.draws = 2000;
  draft.risk = risk;
  return draft;
}

/// A rule whose limit may run from 1 to 60 and whose name is its own.
std::string rule_to_vary(const Scenario& scenario, std::uint64_t seed) {
  const auto rules = rules_with_limits(scenario);
  for (std::size_t k = 0; k < rules.size(); ++k) {
    const std::string& rule = rules[(seed + k) % rules.size()];
    if (rule.starts_with("rate ") || rule.starts_with("grade ") || rule.starts_with("total "))
      return rule;
  }
  return rules.front();
}

}  // namespace

TEST_SUITE("stops of landscapes") {
  TEST_CASE("stopped anywhere, a map, a list or a risk states nothing but the truth") {
    StopsSeen seen[8];
    for (std::uint64_t seed = 0; seed < landscapes_stopped(); ++seed) {
      CAPTURE(seed);
      const Scenario scenario(landscape_draft(seed));
      const std::string material = scenario.materials()[seed % scenario.materials().size()].name;
      const std::string rule = rule_to_vary(scenario, seed);
      check_each_stop([&](const SolveOptions& limits) { return alternatives(scenario, 3, limits); },
                      check_list, seen[0]);
      check_each_stop(
          [&](const SolveOptions& limits) {
            return near_optimum(scenario, 5, SecondaryObjective::fewest_materials, {}, limits);
          },
          check_wish, seen[1]);
      check_each_stop(
          [&](const SolveOptions& limits) {
            return price_map(scenario, material, 100, 900, limits);
          },
          check_bands, seen[2]);
      check_each_stop(
          [&](const SolveOptions& limits) {
            return limit_map(scenario, rule, 1, 60, {.samples = 5, .limits = limits});
          },
          check_points, seen[3]);
      check_each_stop(
          [&](const SolveOptions& limits) {
            RoundingOptions options;
            options.step_kg = scenario.basis() == Basis::per_hectare ? 5 : 20;
            options.most_solves = 200;
            options.limits = limits;
            return round_to_step(scenario, options);
          },
          check_steps, seen[4]);
      check_each_stop(
          [&](const SolveOptions& limits) {
            RiskOptions options;
            options.limits = limits;
            options.threads = 1;
            options.progress = [&](long done, long all) { limits.progress({"draws", done, all}); };
            return price_risk(scenario, options);
          },
          check_draws, seen[5]);
      const std::string another =
          scenario.materials()[(seed + 1) % scenario.materials().size()].name;
      check_each_stop(
          [&](const SolveOptions& limits) {
            return price_regions(scenario, material, {100, 900}, another, {100, 900}, limits);
          },
          check_regions, seen[6]);
      const std::vector<NamedScenario> two{{"as it is", scenario},
                                           {"dearer", scenario.with_price(material, 700)}};
      check_each_stop([&](const SolveOptions& limits) { return compared(two, limits); },
                      check_lines, seen[7]);
    }
    for (const StopsSeen& kind : seen) {
      CHECK(kind.stopped > 0);
      CHECK(kind.partial > 0);
    }
  }
}
