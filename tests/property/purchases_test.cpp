#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "support/generator.hpp"
#include "support/peers/mixed_integer.hpp"
#include "support/purchase_drawing.hpp"
#include "support/random.hpp"
#include "support/reading.hpp"

// Random scenarios with price tiers and minimum lots against CBC. Its program is written out with a
// binary for each tier and each lot, which the library's own has none of: a tier is a range of what
// is bought there, exactly one of them is taken, and a lot switches its material.

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr double open_end = std::numeric_limits<double>::infinity();

/// The scenario without tiers and lots, each material at its first price.
Scenario at_first_prices(const ScenarioDraft& draft) {
  ScenarioDraft flat = draft;
  for (MaterialDraft& material : flat.materials) {
    if (!material.price_tiers.empty()) material.price_per_t = material.price_tiers[0].price_per_t;
    material.price_tiers.clear();
    material.minimum_lot_t.reset();
  }
  return Scenario(flat);
}

class PurchaseWriter {
 public:
  PurchaseWriter(const ScenarioDraft& draft, const Reading& reading, double cap)
      : program_(mixed_integer(reading, cap)), cap_(cap) {
    make_ = draft.make_hectares.value_or(draft.make_tonnes.value_or(1));
    for (std::size_t i = 0; i < reading.size(); ++i) {
      const auto stated =
          std::ranges::find(draft.materials, reading.material[i], &MaterialDraft::name);
      if (stated != draft.materials.end() && reading.enters[i]) add(static_cast<int>(i), *stated);
    }
  }

  MixedInteger take() && {
    // A peer wants the binaries behind the amounts.
    std::vector<int> place(program_.columns.size());
    std::vector<Column> ordered;
    for (const bool binary : {false, true})
      for (std::size_t j = 0; j < place.size(); ++j)
        if (program_.columns[j].binary == binary) {
          place[j] = static_cast<int>(ordered.size());
          ordered.push_back(program_.columns[j]);
        }
    for (auto& row : program_.rows)
      for (auto& entry : row.entries) entry.first = place[static_cast<std::size_t>(entry.first)];
    program_.amounts =
        static_cast<std::size_t>(std::ranges::count(ordered, false, &Column::binary));
    program_.columns = std::move(ordered);
    return std::move(program_);
  }

 private:
  int column(Column added) {
    program_.columns.push_back(added);
    return static_cast<int>(program_.columns.size()) - 1;
  }
  int binary() { return column({0, 1, 0, true}); }
  [[nodiscard]] double kg(double tonnes) const { return tonnes * 1000 / make_; }

  void add(int material, const MaterialDraft& stated) {
    if (stated.minimum_lot_t && *stated.minimum_lot_t > 0) {
      const int on = binary();
      program_.rows.push_back({{{material, 1.0}, {on, -kg(*stated.minimum_lot_t)}}, 0, open_end});
      program_.rows.push_back({{{material, 1.0}, {on, -cap_}}, -open_end, 0});
    }
    if (stated.price_tiers.empty()) return;
    const bool all = stated.price_tiers[0].from_t.has_value();
    Row bought{{{material, 1.0}}, 0, 0};
    Row one{{}, 0, 1};
    for (std::size_t k = 0; k < stated.price_tiers.size(); ++k) {
      const auto& tier = stated.price_tiers[k];
      const double start = kg(all ? *tier.from_t : *tier.beyond_t);
      double end = cap_;
      if (k + 1 < stated.price_tiers.size()) {
        const auto& next = stated.price_tiers[k + 1];
        end = std::min(end, kg(all ? *next.from_t : *next.beyond_t));
      }
      const double dearer = (*tier.price_per_t - *stated.price_tiers[0].price_per_t) / 1000;
      const int part = column({0, all ? open_end : std::max(0.0, end - start), dearer});
      bought.entries.emplace_back(part, -1.0);
      if (!all) continue;
      const int on = binary();
      one.entries.emplace_back(on, 1.0);
      program_.rows.push_back({{{part, 1.0}, {on, -start}}, 0, open_end});
      program_.rows.push_back({{{part, 1.0}, {on, -std::max(start, end)}}, -open_end, 0});
    }
    program_.rows.push_back(bought);
    if (all) program_.rows.push_back(one);
  }

  MixedInteger program_;
  double cap_;
  double make_ = 1;
};

/// What a blend costs by the tiers as the draft states them, freight and all else from the reading.
double cost_by_tiers(const ScenarioDraft& draft, const Reading& reading, const Blend& blend) {
  const double make = draft.make_hectares.value_or(draft.make_tonnes.value_or(1));
  double cost = 0;
  for (const auto& portion : blend.portions) {
    const auto i = static_cast<std::size_t>(std::ranges::find(reading.material, portion.material) -
                                            reading.material.begin());
    const double kg = portion.kg_per_ha.value_or(portion.kg_per_t);
    cost += reading.cost_per_kg[i] * kg;
    const auto stated = std::ranges::find(draft.materials, portion.material, &MaterialDraft::name);
    if (stated == draft.materials.end() || stated->price_tiers.empty()) continue;
    const auto& tiers = stated->price_tiers;
    const double bought = kg * make / 1000;
    double extra = 0;
    for (std::size_t k = 1; k < tiers.size(); ++k) {
      const double change = *tiers[k].price_per_t - *tiers[k - 1].price_per_t;
      if (tiers[k].from_t && bought >= *tiers[k].from_t * (1 - 1e-9)) extra += change * bought;
      if (tiers[k].beyond_t) extra += change * std::max(0.0, bought - *tiers[k].beyond_t);
    }
    cost += extra / make;
  }
  return cost;
}

struct PurchasesSeen {
  int optimal = 0;
  int infeasible = 0;
  int beyond_first = 0;  ///< answers that reach a further tier
  int at_lot = 0;        ///< answers that buy a material with a lot
};

void check_purchases(std::uint64_t seed, PurchasesSeen& seen) {
  CAPTURE(seed);
  ScenarioKind kind;
  kind.materials = 8 + static_cast<int>(seed % 9);
  kind.either_or = seed % 3 == 0;
  kind.frills = false;
  auto draft = random_draft(seed, kind);
  double total = 1000;
  if (!draft.rates_kg_per_ha.empty()) {
    if (!draft.total_kg_per_ha || !draft.total_kg_per_ha->has_max()) {
      Limits most = draft.total_kg_per_ha.value_or(Limits{});
      most.max = std::max(1500.0, most.has_min() ? most.min : 0.0);
      draft.total_kg_per_ha = most;
    }
    total = std::min(600.0, draft.total_kg_per_ha->max);
  }
  draw_purchases(draft, seed, total);
  const auto reading = read(at_first_prices(draft));
  const double cap = *bounded_total(reading);
  const auto peer = solve_with_cbc(PurchaseWriter(draft, reading, cap).take(), {});
  const auto answer = formulate(Scenario(draft), {.intervals = seed % 10 == 0});
  REQUIRE(answer.stopped() == nullptr);
  REQUIRE(peer.status != PeerStatus::unfinished);
  CHECK((answer.blend() != nullptr) == (peer.status == PeerStatus::optimal));
  if (answer.blend() == nullptr || peer.status != PeerStatus::optimal) {
    ++seen.infeasible;
    return;
  }
  ++seen.optimal;
  const Blend& blend = *answer.blend();
  const double cost = blend.cost_per_ha.value_or(blend.cost_per_t);
  CHECK(std::fabs(cost - peer.cost) <= 1e-7 * std::max(1.0, std::fabs(peer.cost)));
  CHECK(std::fabs(cost - cost_by_tiers(draft, reading, blend)) <=
        1e-9 * std::max(1.0, std::fabs(cost)));
  CHECK(blend.cost_parts_add_up);
  for (const auto& purchase : blend.purchases) {
    seen.beyond_first += purchase.tier && purchase.tier->from_t > 0;
    seen.at_lot += purchase.minimum_lot_t.has_value();
    if (purchase.minimum_lot_t) CHECK(purchase.tonnes >= *purchase.minimum_lot_t * (1 - 1e-7));
  }
}

}  // namespace

TEST_SUITE("purchases") {
  TEST_CASE("scenarios with price tiers and lots cost what CBC finds") {
    PurchasesSeen seen;
    for (std::uint64_t seed = 1; seed <= 600; ++seed) check_purchases(seed, seen);
    CHECK(seen.optimal >= 300);
    CHECK(seen.infeasible >= 5);
    CHECK(seen.beyond_first >= 100);
    CHECK(seen.at_lot >= 50);
  }
}
