#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/season_plan.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "support/generator.hpp"
#include "support/peers/mixed_integer.hpp"
#include "support/reading.hpp"

// Random seasons, up to 60 blends, against GLPK, and CBC where there are either-or rules: the
// program that they solve is written out from the scenarios' own numbers.

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr double no_limit = std::numeric_limits<double>::infinity();

struct DrawnSeason {
  SeasonDraft draft{};
  std::vector<Reading> readings{};
};

/// A per-tonne scenario without bins.
Scenario drawn_scenario(std::uint64_t seed, bool either_or) {
  ScenarioKind kind;
  kind.materials = 14;
  kind.either_or = either_or;
  kind.basis = Basis::per_tonne;
  kind.sabotage = 0;
  auto draft = random_draft(seed, kind);
  draft.bins.reset();
  return Scenario(draft);
}

/// Blends of a few catalogues: blends of one seed have the same materials and other amounts.
DrawnSeason drawn_season(std::uint64_t seed, int blends, bool either_or, double share_of_need) {
  DrawnSeason drawn;
  std::map<std::string, double> need;
  const Scenario scenario = drawn_scenario(seed, either_or);
  for (int b = 0; b < blends; ++b) {
    auto changed = scenario.draft();
    // The same yard, another grade: every limit a little lower.
    const double factor = 1 - 0.02 * (b % 7);
    for (auto& target : changed.grade_percent)
      if (!target.limits.exact()) target.limits.min *= factor;
    SeasonBlendDraft blend;
    blend.name = "b" + std::to_string(b);
    blend.scenario = Scenario(changed);
    const double tonnes = 10 + 5 * (b % 11);
    blend.tonnes = Limits{tonnes, tonnes};
    if (!either_or && b % 4 == 1) {
      blend.tonnes = Limits{tonnes / 2, tonnes * 2};
      blend.price_per_t = 300 + 20.0 * (b % 9);
    }
    drawn.readings.push_back(read(*blend.scenario));
    const auto alone = formulate(*blend.scenario, {.intervals = false});
    if (alone.blend() != nullptr)
      for (const auto& portion : alone.blend()->portions)
        need[portion.material] += portion.kg_per_t * tonnes;
    drawn.draft.blends.push_back(std::move(blend));
  }
  int limited = 0;
  for (const auto& [material, kg] : need) {
    if (kg < 1 || ++limited > 3) continue;
    Limits most;
    most.max = std::floor(kg * share_of_need);
    drawn.draft.stock_kg.push_back({material, most});
  }
  return drawn;
}

/// The season as a general solver wants it. With amounts that are columns: kg in all; else kg per
/// tonne, which is what the switches of one blend are written for.
struct WrittenSeason {
  MixedInteger program{};
  double constant = 0;
};

WrittenSeason written_by_amount(const DrawnSeason& drawn) {
  WrittenSeason out;
  auto& program = out.program;
  std::vector<std::size_t> first;
  for (std::size_t b = 0; b < drawn.readings.size(); ++b) {
    const auto unit = relaxation(drawn.readings[b]);
    const auto& blend = drawn.draft.blends[b];
    const auto start = program.columns.size();
    first.push_back(start);
    program.columns.insert(program.columns.end(), unit.columns.begin(), unit.columns.end());
    const bool sold = !blend.tonnes->exact();
    const int amount = static_cast<int>(program.columns.size());
    program.columns.push_back(
        {blend.tonnes->min, blend.tonnes->max, sold ? -*blend.price_per_t : 0});
    for (const auto& row : unit.rows)
      for (const double side : {row.lower, row.upper}) {
        if (!std::isfinite(side)) continue;
        const bool least = side == row.lower;
        Row scaled{{}, least ? 0 : -no_limit, least && row.lower != row.upper ? no_limit : 0};
        for (const auto& [column, value] : row.entries)
          scaled.entries.emplace_back(column + static_cast<int>(start), value);
        scaled.entries.emplace_back(amount, -side);
        program.rows.push_back(scaled);
        if (row.lower == row.upper) break;
      }
    program.amounts = program.columns.size();
  }
  for (const auto& stock : drawn.draft.stock_kg) {
    Row row{{}, -no_limit, stock.kg.max};
    for (std::size_t b = 0; b < first.size(); ++b)
      for (std::size_t i = 0; i < drawn.readings[b].material.size(); ++i)
        if (drawn.readings[b].material[i] == stock.material)
          row.entries.emplace_back(static_cast<int>(first[b] + i), 1.0);
    program.rows.push_back(row);
  }
  return out;
}

/// The same program with all switches behind the amounts, as a peer wants it.
void put_switches_last(MixedInteger& program) {
  std::vector<int> place(program.columns.size());
  std::vector<Column> ordered;
  for (const bool binary : {false, true}) {
    for (std::size_t j = 0; j < place.size(); ++j) {
      if (program.columns[j].binary != binary) continue;
      place[j] = static_cast<int>(ordered.size());
      ordered.push_back(program.columns[j]);
    }
    if (!binary) program.amounts = ordered.size();
  }
  program.columns = std::move(ordered);
  for (auto& row : program.rows)
    for (auto& entry : row.entries) entry.first = place[static_cast<std::size_t>(entry.first)];
}

/// What all blends buy of a material, from which yards, and in which bins, with binaries for tiers,
/// lots and bins: amounts in tonnes.
class GoodsWriter {
 public:
  GoodsWriter(const DrawnSeason& drawn, const std::vector<std::size_t>& first,
              MixedInteger& program)
      : drawn_(drawn), first_(first), program_(program) {
    for (const auto& purchase : drawn.draft.purchases) buy(purchase);
    std::map<std::string, std::vector<std::pair<double, double>>> from;  // transport and stock
    for (const auto& yard : drawn.draft.yards)
      for (const auto& [material, transport] : yard.transport_per_t) {
        const auto stock = std::ranges::find(yard.stock_kg, material, &SeasonStockDraft::material);
        from[material].emplace_back(transport,
                                    stock == yard.stock_kg.end() ? no_limit : stock->kg.max / 1000);
      }
    for (const auto& [material, yards] : from) {
      Row row{taken(material), 0, 0};
      for (const auto& [transport, most] : yards)
        row.entries.emplace_back(column({0, most, transport}), -1.0);
      program_.rows.push_back(row);
    }
    for (const auto& run : drawn.draft.runs) hold(run);
  }

 private:
  int column(Column added) {
    program_.columns.push_back(added);
    return static_cast<int>(program_.columns.size()) - 1;
  }
  [[nodiscard]] std::vector<std::pair<int, double>> taken(const std::string& material) const {
    std::vector<std::pair<int, double>> entries;
    for (std::size_t b = 0; b < first_.size(); ++b)
      for (std::size_t i = 0; i < drawn_.readings[b].material.size(); ++i)
        if (drawn_.readings[b].material[i] == material)
          entries.emplace_back(static_cast<int>(first_[b] + i),
                               drawn_.draft.blends[b].tonnes->min / 1000);
    return entries;
  }
  void buy(const SeasonPurchaseDraft& purchase) {
    constexpr double plenty = 5000;
    const int bought = column({0, no_limit, 0});
    Row all{taken(purchase.material), 0, 0};
    all.entries.emplace_back(bought, -1.0);
    program_.rows.push_back(all);
    if (purchase.minimum_lot_t) {
      const int on = column({0, 1, 0, true});
      program_.rows.push_back({{{bought, 1.0}, {on, -*purchase.minimum_lot_t}}, 0, no_limit});
      program_.rows.push_back({{{bought, 1.0}, {on, -plenty}}, -no_limit, 0});
    }
    if (purchase.price_tiers.empty()) return;
    Row parts{{{bought, 1.0}}, 0, 0};
    Row one{{}, 0, 1};
    const auto& tiers = purchase.price_tiers;
    for (std::size_t k = 0; k < tiers.size(); ++k) {
      const bool every = tiers[k].from_t.has_value();
      const auto begins = [&](std::size_t t) {
        return every ? *tiers[t].from_t : *tiers[t].beyond_t;
      };
      const double end = k + 1 < tiers.size() ? begins(k + 1) : plenty;
      // The scenarios have the first price.
      const double dearer = *tiers[k].price_per_t - *tiers[0].price_per_t;
      const int part = column({0, every ? no_limit : end - begins(k), dearer});
      parts.entries.emplace_back(part, -1.0);
      if (!every) continue;
      const int on = column({0, 1, 0, true});
      one.entries.emplace_back(on, 1.0);
      program_.rows.push_back({{{part, 1.0}, {on, -begins(k)}}, 0, no_limit});
      program_.rows.push_back({{{part, 1.0}, {on, -end}}, -no_limit, 0});
    }
    program_.rows.push_back(parts);
    if (!one.entries.empty()) program_.rows.push_back(one);
  }
  void hold(const SeasonRunDraft& run) {
    std::map<std::string, int> bin_of;
    Row bins{{}, -no_limit, static_cast<double>(run.bins)};
    for (std::size_t b = 0; b < first_.size(); ++b) {
      if (std::ranges::find(run.blends, drawn_.draft.blends[b].name) == run.blends.end()) continue;
      const Reading& reading = drawn_.readings[b];
      for (std::size_t i = 0; i < reading.size(); ++i) {
        if (!reading.enters[i] || !reading.granule[i]) continue;
        const auto [bin, is_new] = bin_of.try_emplace(reading.material[i], 0);
        if (is_new) {
          bin->second = column({0, 1, 0, true});
          bins.entries.emplace_back(bin->second, 1.0);
        }
        program_.rows.push_back(
            {{{static_cast<int>(first_[b] + i), 0.001}, {bin->second, -1.0}}, -no_limit, 0});
      }
    }
    program_.rows.push_back(bins);
  }

  const DrawnSeason& drawn_;
  const std::vector<std::size_t>& first_;
  MixedInteger& program_;
};

/// Prices by quantity, lots, yards and bins for the materials that a season needs most of.
void draw_goods(DrawnSeason& drawn, std::uint64_t seed) {
  std::map<std::string, double> need;
  for (const auto& blend : drawn.draft.blends) {
    const auto alone = formulate(*blend.scenario, {.intervals = false});
    if (alone.blend() == nullptr) continue;
    for (const auto& portion : alone.blend()->portions)
      need[portion.material] += portion.kg_per_t * blend.tonnes->min / 1000;
  }
  drawn.draft.stock_kg.clear();
  std::size_t k = seed;
  for (const auto& [material, tonnes] : need) {
    const Scenario& scenario = *drawn.draft.blends.front().scenario;
    const double price = scenario.materials()[*scenario.index_of(material)].price_per_t;
    if (price <= 0 || tonnes < 1) continue;
    SeasonPurchaseDraft purchase{material, {}, {}};
    switch (k++ % 5) {
      case 0:
        purchase.price_tiers = {{0.0, {}, price}, {tonnes * 1.1, {}, price * 0.93}};
        break;
      case 1:
        purchase.price_tiers = {{{}, 0.0, price}, {{}, tonnes * 0.6, price * 1.08}};
        purchase.minimum_lot_t = tonnes * 0.3;
        break;
      case 2:
        purchase.minimum_lot_t = tonnes * 1.15;
        break;
      case 3: {
        Limits most;
        most.max = std::floor(tonnes * 600);
        auto& yards = drawn.draft.yards;
        if (yards.empty()) yards = {{"near", {}, {}}, {"far", {}, {}}};
        yards[0].stock_kg.push_back({material, most});
        yards[0].transport_per_t.emplace_back(material, 4);
        yards[1].transport_per_t.emplace_back(material, 17);
        continue;
      }
      default:
        continue;
    }
    drawn.draft.purchases.push_back(std::move(purchase));
  }
  SeasonRunDraft run{"run", {}, 4 + static_cast<int>(seed % 3)};
  for (std::size_t b = 0; b + 1 < drawn.draft.blends.size(); ++b)
    run.blends.push_back(drawn.draft.blends[b].name);
  if (seed % 2 == 0) drawn.draft.runs.push_back(std::move(run));
}

WrittenSeason written_by_tonne(const DrawnSeason& drawn) {
  WrittenSeason out;
  auto& program = out.program;
  std::vector<std::size_t> first;
  for (std::size_t b = 0; b < drawn.readings.size(); ++b) {
    auto unit = mixed_integer(drawn.readings[b], 1000);
    const double tonnes = drawn.draft.blends[b].tonnes->min;
    const auto start = program.columns.size();
    first.push_back(start);
    for (auto column : unit.columns) {
      column.cost *= tonnes;
      program.columns.push_back(column);
    }
    for (auto row : unit.rows) {
      for (auto& entry : row.entries) entry.first += static_cast<int>(start);
      program.rows.push_back(std::move(row));
    }
  }
  for (const auto& stock : drawn.draft.stock_kg) {
    Row row{{}, -no_limit, stock.kg.max / 1000};
    for (std::size_t b = 0; b < first.size(); ++b)
      for (std::size_t i = 0; i < drawn.readings[b].material.size(); ++i)
        if (drawn.readings[b].material[i] == stock.material)
          row.entries.emplace_back(static_cast<int>(first[b] + i),
                                   drawn.draft.blends[b].tonnes->min / 1000);
    program.rows.push_back(row);
  }
  GoodsWriter(drawn, first, program);
  put_switches_last(program);
  program.total_cap = 1000;
  return out;
}

/// Cost less what the blends sell for whose amount is open.
double net_of(const DrawnSeason& drawn, const SeasonPlan& plan) {
  double net = plan.cost.value();
  for (std::size_t b = 0; b < plan.blends.size(); ++b)
    if (!drawn.draft.blends[b].tonnes->exact()) net -= plan.blends[b].revenue.value_or(0);
  return net;
}

bool close_enough(double a, double b, double size) {
  return std::fabs(a - b) <= 1e-7 * std::max(1.0, size);
}

void hold_against(const PeerAnswer& peer, const DrawnSeason& drawn, const SeasonPlan& plan) {
  REQUIRE(peer.status != PeerStatus::unfinished);
  REQUIRE(plan.outcome.status != Status::stopped);
  CHECK((plan.outcome.status == Status::optimal) == (peer.status == PeerStatus::optimal));
  if (plan.outcome.status != Status::optimal || peer.status != PeerStatus::optimal) return;
  CAPTURE(net_of(drawn, plan));
  CAPTURE(peer.cost);
  CHECK(close_enough(net_of(drawn, plan), peer.cost, plan.cost.value()));
}

/// What a limit costs on the season's own numbers: solve with a little more and a little less.
void hold_prices(const DrawnSeason& drawn, const SeasonPlan& plan) {
  for (std::size_t s = 0; s < plan.shared.size(); ++s) {
    const auto& limit = plan.shared[s];
    // A limit that is not reached has no price, one that has a price is reached.
    if (limit.used_kg < limit.limit_kg * (1 - 1e-6)) CHECK(limit.shadow_price_per_t == 0);
    CHECK(limit.shadow_price_per_t <= 1e-9);
    if (!limit.price_below_per_t || !limit.holds_from_kg.is_computed()) continue;
    auto less = drawn;
    const double step = limit.limit_kg * 1e-4;
    less.draft.stock_kg[s].kg.max -= step;
    const auto peer = solve_with_glpk(written_by_amount(less).program, {});
    if (peer.status != PeerStatus::optimal) continue;
    // Convex: the first kg less costs no more than the slope over the step.
    const double rise = (peer.cost - net_of(drawn, plan)) / step * 1000;
    CHECK(-*limit.price_below_per_t <= rise + 1e-4 * std::max(1.0, std::fabs(rise)));
    if (limit.holds_from_kg && *limit.holds_from_kg < limit.limit_kg - step)
      CHECK(-*limit.price_below_per_t ==
            doctest::Approx(rise).epsilon(1e-3).scale(plan.cost.value() * 1e-7 / step * 1000 + 1));
  }
}

}  // namespace

TEST_SUITE_BEGIN("season");

TEST_CASE("linear seasons cost what GLPK finds, and their prices are the slopes of its cost") {
  int planned = 0;
  int scarce = 0;
  for (std::uint64_t seed = 1; seed <= 24; ++seed) {
    const int blends = seed % 6 == 0 ? 60 : 2 + static_cast<int>(seed % 9);
    const auto drawn = drawn_season(seed, blends, false, 0.55 + 0.02 * static_cast<double>(seed));
    CAPTURE(seed);
    const auto plan = plan_season(Season(drawn.draft));
    hold_against(solve_with_glpk(written_by_amount(drawn).program, {}), drawn, plan);
    if (plan.outcome.status != Status::optimal) continue;
    ++planned;
    for (const auto& limit : plan.shared) scarce += limit.shadow_price_per_t < 0 ? 1 : 0;
    if (blends < 60) hold_prices(drawn, plan);
    CHECK(net_of(drawn, plan) >= plan.cost_apart.value() - 1e-6 * plan.cost.value());
    if (plan.one_by_one && (*plan.one_by_one).status == Status::optimal)
      CHECK((*plan.one_by_one).cost.value() >= net_of(drawn, plan) - 1e-6 * plan.cost.value());
  }
  CHECK(planned >= 8);
  CHECK(scarce >= 8);
}

TEST_CASE("seasons with either-or rules cost what CBC finds") {
  int planned = 0;
  for (std::uint64_t seed = 101; seed <= 116; ++seed) {
    const auto drawn = drawn_season(seed, 2 + static_cast<int>(seed % 4), true, 0.7);
    CAPTURE(seed);
    const auto plan = plan_season(Season(drawn.draft));
    hold_against(solve_with_cbc(written_by_tonne(drawn).program, {}), drawn, plan);
    if (plan.outcome.status == Status::optimal) ++planned;
  }
  CHECK(planned >= 5);
}

TEST_CASE("seasons that buy by quantity, from yards and into bins cost what CBC finds") {
  int planned = 0;
  int tiers = 0;
  int loads = 0;
  int full = 0;
  for (std::uint64_t seed = 201; seed <= 230; ++seed) {
    auto drawn = drawn_season(seed, 2 + static_cast<int>(seed % 4), seed % 5 == 0, 1);
    for (auto& blend : drawn.draft.blends) {  // given amounts
      blend.tonnes->max = blend.tonnes->min;
      blend.price_per_t.reset();
    }
    draw_goods(drawn, seed);
    CAPTURE(seed);
    const auto plan = plan_season(Season(drawn.draft));
    hold_against(solve_with_cbc(written_by_tonne(drawn).program, {}), drawn, plan);
    if (plan.outcome.status != Status::optimal) continue;
    ++planned;
    double sum = 0;
    for (const auto& blend : plan.blends) sum += blend.cost;
    CHECK(sum == doctest::Approx(*plan.cost));
    CHECK(*plan.cost >= *plan.cost_apart - 1e-7 * *plan.cost);
    for (const auto& bought : plan.by_quantity) tiers += bought.tier && bought.tier->from_t > 0;
    loads += static_cast<int>(plan.transport.size());
    for (const auto& run : plan.runs)
      full += run.materials.size() == static_cast<std::size_t>(run.bins);
  }
  CHECK(planned >= 15);
  CHECK(tiers >= 5);
  CHECK(loads >= 5);
  CHECK(full >= 3);
}

TEST_CASE("a transport plan with a known optimum comes out of a season") {
  // Two mills and three markets; the optimum and the method (moving along a cycle) are as in any
  // textbook of linear programming; the figures were made up and the optimum worked by hand.
  // Supply 60, 50 t; demand 40, 30, 35 t; cost per t: mill A 4, 6, 9; mill B 5, 3, 2.
  // B serves market 3 (35 at 2) and half of market 2 (15 at 3), A market 1 (40 at 4) and the rest
  // of market 2 (15 at 6): 70 + 45 + 160 + 90 = 365. Cheaper is none: potentials A 0, B -3; markets
  // 4, 6, 5; the reduced costs of A-3 and B-1 are 9 - 5 = 4 and 5 - 1 = 4.
  const double cost[2][3] = {{4, 6, 9}, {5, 3, 2}};
  const double demand[3] = {40, 30, 35};
  SeasonDraft season;
  for (int m = 0; m < 3; ++m) {
    ScenarioDraft draft;
    for (int mill = 0; mill < 2; ++mill) {
      MaterialDraft material;
      material.name = mill == 0 ? "mill-a" : "mill-b";
      material.form = Form::granule;
      material.contains_percent = std::vector<Content>{{"N", 20}};
      material.price_per_t = cost[mill][m];
      draft.materials.push_back(material);
    }
    Limits least;
    least.min = 10;
    draft.grade_percent.push_back({"N", least});
    SeasonBlendDraft market;
    market.name = "market " + std::to_string(m + 1);
    market.scenario = Scenario(draft);
    market.tonnes = Limits{demand[m], demand[m]};
    season.blends.push_back(market);
  }
  Limits most;
  most.max = 60000;
  season.stock_kg.push_back({"mill-a", most});
  most.max = 50000;
  season.stock_kg.push_back({"mill-b", most});
  const auto plan = plan_season(Season(season));
  REQUIRE(plan.outcome.status == Status::optimal);
  CHECK(plan.cost.value() == doctest::Approx(365));
  CHECK(plan.shared[0].shadow_price_per_t == 0);
  CHECK(plan.shared[1].shadow_price_per_t == doctest::Approx(-3));
  CHECK(*plan.blends[2].marginal_cost == doctest::Approx(5));
}

TEST_SUITE_END();
