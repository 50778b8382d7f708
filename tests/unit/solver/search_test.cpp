#include "solver/search.hpp"

#include <doctest/doctest.h>

#include <set>

using namespace leastwise;
using model::Model;
using solver::SearchOptions;
using solver::SearchStatus;

namespace {

using model::infinity;

/// A per-tonne model of granules: shares of N and P2O5, costs, and one family each.
struct Granule {
  double n;
  double p;
  double cost;
};

Model granules(const std::vector<Granule>& list, double need_n, double need_p) {
  Model m;
  m.rows = 3;
  m.columns = static_cast<int>(list.size());
  for (std::size_t j = 0; j < list.size(); ++j) m.entries.push_back({static_cast<int>(j), 1});
  m.row_start.push_back(static_cast<int>(m.entries.size()));
  for (std::size_t j = 0; j < list.size(); ++j)
    m.entries.push_back({static_cast<int>(j), list[j].n});
  m.row_start.push_back(static_cast<int>(m.entries.size()));
  for (std::size_t j = 0; j < list.size(); ++j)
    m.entries.push_back({static_cast<int>(j), list[j].p});
  m.row_start.push_back(static_cast<int>(m.entries.size()));
  m.row_lower = {1000, need_n, need_p};
  m.row_upper = {1000, infinity, infinity};
  for (std::size_t j = 0; j < list.size(); ++j) {
    m.column_lower.push_back(0);
    m.column_upper.push_back(infinity);
    m.cost.push_back(list[j].cost);
    m.material_of.push_back(static_cast<int>(j));
    m.is_granule.push_back(1);
    m.family_of.push_back(static_cast<int>(j));
    m.families.push_back({static_cast<int>(j)});
  }
  return m;
}

// urea, ammonium nitrate, MAP, filler
const std::vector<Granule> usual{
    {0.46, 0, 0.40}, {0.34, 0, 0.20}, {0.11, 0.52, 0.55}, {0, 0, 0.04}};

}  // namespace

TEST_SUITE("search") {
  TEST_CASE("without either-or rules one linear program is the whole search") {
    const auto found = solver::search(granules(usual, 150, 100));
    CHECK(found.status == SearchStatus::optimal);
    CHECK(found.nodes == 1);
    CHECK(found.lower_bound == found.cost);
  }

  TEST_CASE("of two families kept apart the cheaper whole wins, not the cheaper kilogram") {
    // 380 kg/t of N needs urea; nitrate alone reaches 340, both together are cheaper but apart.
    auto m = granules(usual, 380, 0);
    const auto together = solver::search(m);
    CHECK(together.x[0] > 1);
    CHECK(together.x[1] > 1);
    m.apart = {{0, 1, 0, true}};
    const auto kept_apart = solver::search(m);
    REQUIRE(kept_apart.status == SearchStatus::optimal);
    CHECK(kept_apart.x[1] == 0);
    CHECK(kept_apart.cost == doctest::Approx(0.40 * 380 / 0.46 + 0.04 * (1000 - 380 / 0.46)));
    CHECK(kept_apart.cost > together.cost);
  }

  TEST_CASE("a minimum if used is met or the material is left out") {
    auto m = granules(usual, 150, 20);  // MAP would be 38.5 kg
    REQUIRE(solver::search(m).x[2] == doctest::Approx(20 / 0.52));
    m.minima = {{2, 2, 5, 50, -1, true}};
    const auto found = solver::search(m);
    REQUIRE(found.status == SearchStatus::optimal);
    CHECK(found.x[2] == doctest::Approx(50));
    m.row_lower[2] = 0;
    CHECK(solver::search(m).x[2] == 0);
  }

  TEST_CASE("a price a billion times another's does not hide which of the cheap is cheaper") {
    // Half of the tonne may be of the cheaper filler: 500 x 0.001 + 500 x 0.0009 = 0.95.
    Model m = granules({{0, 0, 1e-3}, {0, 0, 9e-4}, {0.46, 0, 1e6}}, 0, 0);
    m.column_upper[1] = 500;
    const auto found = solver::search(m);
    REQUIRE(found.status == SearchStatus::optimal);
    CHECK(found.cost == doctest::Approx(0.95).epsilon(1e-12));
    CHECK(found.x[1] == doctest::Approx(500));
  }

  TEST_CASE("a trace that is asked for counts as use") {
    // A ten-millionth of a kilogram of ammonium nitrate is enough to keep urea out.
    auto goods = usual;
    goods[1].cost = 0.6;
    Model m = granules(goods, 150, 100);
    m.apart = {{0, 1, 0, true}};
    CHECK(solver::search(m).x[1] == 0);
    m.column_lower[1] = 1e-7;
    const auto found = solver::search(m);
    REQUIRE(found.status == SearchStatus::optimal);
    CHECK(found.x[0] == 0);
    CHECK(found.x[1] > 200);
  }

  TEST_CASE("no more granular materials than bins") {
    auto m = granules(usual, 150, 100);
    std::size_t used = 0;
    for (const double x : solver::search(m).x) used += x > 0;
    REQUIRE(used == 3);
    m.bins = 2;
    const auto found = solver::search(m);
    REQUIRE(found.status == SearchStatus::optimal);
    used = 0;
    for (const double x : found.x) used += x > 0;
    CHECK(used <= 2);
    m.bins = 1;
    CHECK(solver::search(m).status == SearchStatus::infeasible);
  }

  TEST_CASE("a cutoff below the optimum finds nothing and one above finds the optimum") {
    auto m = granules(usual, 380, 0);
    m.apart = {{0, 1, 0, true}};
    const double best = solver::search(m).cost;
    SearchOptions options;
    options.cutoff = best * (1 - 1e-6);
    CHECK(solver::search(m, options).status == SearchStatus::infeasible);
    options.cutoff = best * (1 + 1e-6);
    CHECK(solver::search(m, options).status == SearchStatus::optimal);
  }

  TEST_CASE("a deadline in the past stops the search without a blend") {
    auto m = granules(usual, 380, 0);
    m.apart = {{0, 1, 0, true}};
    SearchOptions options;
    options.deadline = std::chrono::steady_clock::now() - std::chrono::seconds(1);
    const auto found = solver::search(m, options);
    CHECK(found.status == SearchStatus::time_limit);
    CHECK_FALSE(found.has_blend);
    CHECK(found.lower_bound == -infinity);
  }

  TEST_CASE("a request to stop is answered") {
    std::stop_source source;
    source.request_stop();
    SearchOptions options;
    options.stop = source.get_token();
    CHECK(solver::search(granules(usual, 150, 100), options).status == SearchStatus::cancelled);
  }

  TEST_CASE("bounds that cross are an impossible program, not an error") {
    auto m = granules(usual, 150, 100);
    m.row_upper[1] = 100;
    CHECK(solver::search(m).status == SearchStatus::infeasible);
    auto n = granules(usual, 150, 100);
    n.column_lower[0] = 5;
    n.column_upper[0] = 4;
    CHECK(solver::search(n).status == SearchStatus::infeasible);
  }

  TEST_CASE("the leaves recorded settle every branch") {
    auto m = granules(usual, 380, 0);
    m.apart = {{0, 1, 0, true}};
    SearchOptions options;
    options.record_leaves = true;
    const auto found = solver::search(m, options);
    REQUIRE(found.status == SearchStatus::optimal);
    CHECK(found.leaves.size() == 2);
    for (const auto& leaf : found.leaves) CHECK(leaf.path.size() == 1);
  }
}
