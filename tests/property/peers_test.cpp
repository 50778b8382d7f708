#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <string>
#include <utility>
#include <vector>

#include "support/audit.hpp"
#include "support/generator.hpp"
#include "support/peers/mixed_integer.hpp"
#include "support/reading.hpp"

// The optimum of thousands of random scenarios against two general mixed-integer solvers that know
// nothing of this library: their models are written from the scenario's own numbers.
//
// More of them:  LEASTWISE_PEER_SCENARIOS=10000 property_tests -ts=peers
// A single one:  LEASTWISE_PEER_SEED=12345 property_tests -ts=peers

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// Relative agreement asked of the two costs.
constexpr double tolerance = 1e-7;

struct Tally {
  int optimal = 0;
  int infeasible = 0;
  int peer_refuted = 0;  ///< our audited blend proves the peer wrong
  int peer_unfinished = 0;
};

long number_from_environment(const char* name, long otherwise) {
  const char* text = std::getenv(name);
  return text == nullptr ? otherwise : std::strtol(text, nullptr, 10);
}

ScenarioKind kind_for(std::uint64_t seed) {
  ScenarioKind kind;
  if (seed % 11 == 3) kind.materials = 60;
  if (seed % 97 == 5) kind.materials = 120;
  kind.either_or = seed % 5 != 0;
  return kind;
}

bool close(double a, double b) {
  return std::fabs(a - b) <= tolerance * std::max({std::fabs(a), std::fabs(b), 1e-3});
}

/// The peer says there is a blend, or a cheaper one. Its amounts, checked by the audit, decide.
void hold_against_better_peer(const Reading& reading, const PeerAnswer& peer,
                              const std::string& ours) {
  const Audit check = audit(reading, peer.amounts);
  CAPTURE(check.worst_rule);
  CAPTURE(check.worst_violation);
  CHECK_MESSAGE(!check.passes(1e-8), ours, ", but the peer's blend costs ", check.cost,
                " and obeys every rule");
  // The peer's blend is not quite allowed: take its choice of materials and solve that tightly.
  std::vector<char> used(reading.size());
  for (std::size_t i = 0; i < used.size(); ++i) used[i] = peer.amounts[i] > 1e-9;
  const PeerAnswer again = cheapest_with(reading, used);
  CHECK_MESSAGE(
      (again.status != PeerStatus::optimal || !audit(reading, again.amounts).passes(1e-8)), ours,
      ", but the peer's materials make a blend that costs ", again.cost);
}

void check_certificate(const Certificate& certificate) {
  CHECK(certificate.primal_violation <= 1e-7);
  CHECK(certificate.dual_violation <= 1e-7);
  CHECK(certificate.gap <= 1e-7);
  CHECK(certificate.nodes >= 1);
}

void compare(const Scenario& scenario, Peer which, Tally& tally) {
  const Reading reading = read(scenario);
  const PeerAnswer peer = solve_with_peer(reading, which);
  const Formulation answer = formulate(scenario, {.intervals = false});
  CAPTURE(scenario.title());
  CAPTURE(peer.cost);
  if (const Stopped* stopped = answer.stopped()) {
    FAIL_CHECK("stopped without a limit: ", stopped->detail);
    return;
  }
  if (peer.status == PeerStatus::unfinished) ++tally.peer_unfinished;
  if (const Blend* blend = answer.blend()) {
    ++tally.optimal;
    check_certificate(blend->certificate);
    for (const std::string& contradiction : contradictions(scenario, *blend))
      FAIL_CHECK(contradiction);
    const double ours = cost_of(*blend);
    CAPTURE(ours);
    if (peer.status == PeerStatus::unfinished) return;
    if (peer.status == PeerStatus::optimal && close(ours, peer.cost)) return;
    if (peer.status == PeerStatus::optimal && peer.cost < ours)
      return hold_against_better_peer(reading, peer, "our blend costs more");
    ++tally.peer_refuted;
    std::cerr << scenario.title() << ": the peer "
              << (peer.status == PeerStatus::optimal ? "missed a cheaper blend"
                                                     : "called a possible blend impossible")
              << '\n';
    return;
  }
  ++tally.infeasible;
  if (peer.status == PeerStatus::optimal)
    hold_against_better_peer(reading, peer, "we say no blend exists");
}

void compare(std::uint64_t seed, Peer which, Tally& tally) {
  compare(random_scenario(seed, kind_for(seed)), which, tally);
}

MaterialDraft good(const char* name, Form form, std::vector<Content> contents, double price) {
  MaterialDraft material;
  material.name = name;
  material.form = form;
  material.contains_percent = std::move(contents);
  material.price_per_t = price;
  return material;
}

/// Four bulk goods, a free filler and two ways to bring zinc.
ScenarioDraft plain_draft() {
  ScenarioDraft draft;
  draft.currency = "USD";
  draft.materials = {good("nitrogen", Form::granule, {{"N", 46}, {"biuret", 0.9}}, 410),
                     good("sulfate", Form::granule, {{"N", 21}, {"S", 24}}, 280),
                     good("phosphate", Form::granule, {{"P2O5", 46}}, 560),
                     good("potash", Form::granule, {{"K2O", 60}, {"Cl", 47}}, 390),
                     good("filler", Form::granule, {{"Si", 30}}, 0),
                     good("zinc-powder", Form::powder, {{"Zn", 78}}, 3100),
                     good("zinc-granule", Form::granule, {{"Zn", 20}, {"S", 10}}, 1500)};
  draft.materials.back().micronutrient_granule = true;
  draft.rates_kg_per_ha = {
      {"N", {.min = 60}}, {"P2O5", {.min = 30}}, {"K2O", {.min = 40}}, {"Zn", {.min = 1}}};
  return draft;
}

/// Limits at the edge of sense, each on top of the plain draft.
std::vector<std::pair<std::string, ScenarioDraft>> awkward_drafts() {
  std::vector<std::pair<std::string, ScenarioDraft>> drafts;
  const auto add = [&](const char* title, auto change) {
    ScenarioDraft draft = plain_draft();
    draft.title = title;
    change(draft);
    drafts.emplace_back(title, draft);
  };
  add("a free filler and no upper total", [](ScenarioDraft&) {});
  add("filler must fill up", [](ScenarioDraft& d) { d.total_kg_per_ha = Limits{800, 800}; });
  add("paid to take the filler", [](ScenarioDraft& d) {
    d.materials[4].price_per_t = -5.0;
    d.total_kg_per_ha = Limits{.max = 500};
  });
  add("everything free", [](ScenarioDraft& d) {
    for (MaterialDraft& material : d.materials) material.price_per_t = 0.0;
    d.total_kg_per_ha = Limits{.max = 500};
  });
  add("no coating at all", [](ScenarioDraft& d) { d.coating_percent = Limits{.max = 0}; });
  add("nothing in stock", [](ScenarioDraft& d) {
    d.make_hectares = 10;
    d.materials[0].stock_kg = 0;
    d.materials[6].stock_kg = 0;
  });
  add("one bin", [](ScenarioDraft& d) { d.bins = 1; });
  add("three bins", [](ScenarioDraft& d) { d.bins = 3; });
  add("a trace of a property", [](ScenarioDraft& d) {
    d.materials[4].contains_percent->push_back({"trace", 1e-4});
    d.rates_kg_per_ha.push_back({"trace", {.min = 1e-5}});
  });
  add("all or nothing of one good",
      [](ScenarioDraft& d) { d.materials[0].min_if_used_percent = 100.0; });
  add("none of a grade", [](ScenarioDraft& d) { d.grade_percent = {{"Cl", {.max = 0}}}; });
  add("none of a grade that comes with every source", [](ScenarioDraft& d) {
    d.grade_percent = {{"biuret", {.max = 0}}};
  });
  add("a ratio of nothing", [](ScenarioDraft& d) { d.ratios = {{"S", "N", {.max = 0}}}; });
  add("a million kilograms", [](ScenarioDraft& d) { d.rates_kg_per_ha[0].limits.min = 1e6; });
  add("a milligram", [](ScenarioDraft& d) { d.rates_kg_per_ha = {{"Zn", {.min = 1e-6}}}; });
  add("prices far apart", [](ScenarioDraft& d) {
    d.materials[0].price_per_t = 1e6;
    d.materials[1].price_per_t = 0.01;
  });
  add("one good is everything",
      [](ScenarioDraft& d) { d.materials[2].share_percent = Limits{.min = 100}; });
  add("one good is half, another the other half", [](ScenarioDraft& d) {
    d.materials[0].share_percent = Limits{.min = 50};
    d.materials[2].share_percent = Limits{.min = 50};
    d.rates_kg_per_ha = {{"N", {.min = 60}}};
  });
  add("no binder by mass", [](ScenarioDraft& d) {
    d.binder = BinderDraft{"water-glass", 0.0, 100.0, false};
  });
  add("as much binder as powder", [](ScenarioDraft& d) {
    d.binder = BinderDraft{"water-glass", 100.0, 100.0, false};
  });
  add("granules as good as coating", [](ScenarioDraft& d) { d.granular_micronutrient_factor = 1; });
  add("an exact micronutrient that granules reach in part", [](ScenarioDraft& d) {
    d.rates_kg_per_ha[3].limits = {1, 1};
  });
  add("twins", [](ScenarioDraft& d) {
    d.materials.push_back(d.materials[0]);
    d.materials.back().name = "twin";
    d.incompatible = {{"nitrogen", "twin"}, {"twin", "phosphate"}};
  });
  add("the only two sources apart", [](ScenarioDraft& d) {
    d.incompatible = {{"phosphate", "potash"}};
  });
  add("everything apart from everything", [](ScenarioDraft& d) {
    d.rates_kg_per_ha = {{"N", {.min = 60}}};
    for (std::size_t i = 0; i < d.materials.size(); ++i)
      for (std::size_t k = i + 1; k < d.materials.size(); ++k)
        d.incompatible.emplace_back(d.materials[i].name, d.materials[k].name);
  });
  return drafts;
}

}  // namespace

TEST_SUITE("peers") {
  TEST_CASE("the cost and the verdict agree with CBC and GLPK at the edge of sense") {
    Tally tally;
    for (const auto& [name, draft] : awkward_drafts()) {
      const std::string& title = name;
      CAPTURE(title);
      for (const Peer peer : {Peer::cbc, Peer::glpk}) compare(Scenario(draft), peer, tally);
    }
    CHECK(tally.peer_refuted == 0);
    CHECK(tally.infeasible >= 8);
    CHECK(tally.optimal >= 24);
  }

  TEST_CASE("a material asked for in traces is no reason to give a large scenario up") {
    // Shares of less than a millionth of a percent; found by the contest of bench_search.
    Tally tally;
    for (const std::uint64_t seed : {900154U, 900159U})
      compare(random_scenario(seed, {.materials = 150, .sabotage = 0.1, .frills = false}),
              Peer::cbc, tally);
    CHECK(tally.optimal + tally.infeasible == 2);
  }

  TEST_CASE("the cost and the verdict agree with CBC and GLPK on random scenarios") {
    const long count = number_from_environment("LEASTWISE_PEER_SCENARIOS", 3000);
    const long single = number_from_environment("LEASTWISE_PEER_SEED", -1);
    Tally tally;
    if (single >= 0) {
      for (const Peer peer : {Peer::cbc, Peer::glpk})
        compare(static_cast<std::uint64_t>(single), peer, tally);
      return;
    }
    for (long k = 1; k <= count; ++k)
      compare(static_cast<std::uint64_t>(k), k % 4 == 0 ? Peer::cbc : Peer::glpk, tally);
    std::cerr << count << " scenarios: " << tally.optimal << " blends, " << tally.infeasible
              << " without a blend; peers refuted " << tally.peer_refuted << ", unfinished "
              << tally.peer_unfinished << '\n';
    // The draw must stay a test of both verdicts, and the peers must stay worth listening to.
    CHECK(tally.infeasible * 20 > count);
    CHECK(tally.optimal * 2 > count);
    CHECK(tally.peer_refuted * 200 <= count);
    CHECK(tally.peer_unfinished * 200 <= count);
  }
}
