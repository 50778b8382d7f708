#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/report.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <optional>

#include "random_program.hpp"
#include "solver/certificate.hpp"
#include "solver/lp_solver.hpp"
#include "support/generator.hpp"

// The dense kernel against CLP: alone on random programs under changing bounds, each verdict
// certified from the program's own numbers, and then with the whole library around it.
//
// More programs:  LEASTWISE_KERNEL_PROGRAMS=100000 property_tests -ts=kernel

using namespace leastwise;
using namespace leastwise::testing;
using solver::Kernel;
using solver::LinearStatus;
using solver::LpSolver;

namespace {

long kernel_programs() {
  const char* text = std::getenv("LEASTWISE_KERNEL_PROGRAMS");
  return text == nullptr ? 7000 : std::strtol(text, nullptr, 10);
}

/// What is proved of one solve.
struct Verdict {
  std::optional<double> cost{};  ///< of a certified optimum
  bool impossible = false;       ///< a certified contradiction
  bool certified = false;
};

Verdict verdict_of(const LpSolver& program, LinearStatus status) {
  const auto& data = program.data();
  if (status == LinearStatus::infeasible) {
    const auto y = program.infeasibility_multipliers();
    const bool proved = !y.empty() && solver::contradicts(data, y);
    return {{}, proved, proved};
  }
  if (status != LinearStatus::optimal) return {};
  std::vector<double> x(program.values().begin(), program.values().end());
  std::vector<double> y(program.duals().begin(), program.duals().end());
  solver::round_small_to_zero(data, x);
  solver::clean_duals(data, y);
  const auto proof = solver::dual_proof(data, y);
  if (solver::primal_violation(data, x) > solver::certificate_tolerance ||
      proof.violation > solver::certificate_tolerance ||
      solver::optimality_gap(data, x, proof) > solver::gap_tolerance)
    return {};
  return {program.cost(), false, true};
}

struct Tally {
  long solves = 0;
  long optimal = 0;
  long impossible = 0;
  long handed_on = 0;  ///< given up, or not certified
  long compared = 0;

  void add(const Verdict& verdict, bool by_kernel) {
    ++solves;
    if (!by_kernel || !verdict.certified) ++handed_on;
    if (verdict.cost) ++optimal;
    if (verdict.impossible) ++impossible;
  }
};

/// Other bounds for a column or a row, the same for both.
void change_bounds(support::Random& random, LpSolver& one, LpSolver& other) {
  const auto& data = one.data();
  const int j = static_cast<int>(random.index(data.lower.size()));
  const double upper = random.chance(0.3) ? 0 : random.chance(0.5) ? 200 : model::infinity;
  const double lower = random.chance(0.2) ? std::min(upper, random.between(0, 5)) : 0;
  one.set_column_bounds(j, lower, upper);
  other.set_column_bounds(j, lower, upper);
  if (data.rows < 2 || random.chance(0.5)) return;
  const auto i = 1 + random.index(static_cast<std::size_t>(data.rows - 1));
  double from = data.row_lower[i];
  double to = data.row_upper[i];
  if (random.chance(0.3)) {
    from = -model::infinity;
    to = model::infinity;
  } else if (to == model::infinity && from > 0) {
    from *= random.between(0.5, 1.2);
  }
  one.set_row_bounds(static_cast<int>(i), from, to);
  other.set_row_bounds(static_cast<int>(i), from, to);
}

/// One program, solved by both under one set of bounds after another.
void compare(std::uint64_t seed, Hardship hardship, Tally& tally) {
  CAPTURE(seed);
  CAPTURE(to_string(hardship));
  support::Random random(seed);
  const auto data = random_program(random, hardship);
  LpSolver dense(data, Kernel::always);
  LpSolver clp(data, Kernel::never);
  std::vector<solver::WarmStart> bases;
  for (int change = random.whole(1, 6); change > 0; --change) {
    if (!bases.empty() && random.chance(0.3))
      dense.set_warm_start(bases[random.index(bases.size())]);
    const auto ours = verdict_of(dense, dense.solve({}));
    const auto peer = verdict_of(clp, clp.solve({}));
    tally.add(ours, dense.solved_by_kernel());
    bases.push_back(dense.warm_start());
    if (ours.certified && peer.certified) {
      ++tally.compared;
      CHECK(ours.impossible == peer.impossible);
      // Rows a ten-millionth apart let a cost move by what rounding leaves of that.
      const double tolerance = hardship == Hardship::parallel ? 1e-3 : 1e-7;
      if (ours.cost && peer.cost)
        CHECK(std::fabs(*ours.cost - *peer.cost) <=
              tolerance * std::max(1.0, std::fabs(*peer.cost)));
    }
    change_bounds(random, dense, clp);
  }
}

bool close(double a, double b) {
  return std::fabs(a - b) <= 1e-7 * std::max({std::fabs(a), std::fabs(b), 1e-3});
}

/// Whether two blends are one, or tie: the cost is the same, and so are the portions where only one
/// basis reaches it.
void check_same(const Formulation& one, const Formulation& other) {
  REQUIRE(one.status() == other.status());
  if (one.blend() == nullptr) return;
  CHECK(close(one.blend()->cost_per_t, other.blend()->cost_per_t));
}

}  // namespace

TEST_SUITE("kernel") {
  TEST_CASE("each verdict of the kernel is certified and agrees with CLP, or is handed on") {
    Tally all;
    for (const auto hardship :
         {Hardship::none, Hardship::degenerate, Hardship::ranges, Hardship::scaled,
          Hardship::larger, Hardship::gate_fees, Hardship::parallel}) {
      Tally tally;
      for (long k = 0; k < kernel_programs() / 7; ++k)
        compare(910'000'000 + static_cast<std::uint64_t>(k), hardship, tally);
      std::cout << to_string(hardship) << ": " << tally.solves << " solves, " << tally.optimal
                << " optimal, " << tally.impossible << " infeasible, " << tally.handed_on
                << " handed on\n";
      all.solves += tally.solves;
      all.handed_on += tally.handed_on;
      all.optimal += tally.optimal;
      all.impossible += tally.impossible;
      all.compared += tally.compared;
    }
    std::cout << "handed on: "
              << 100.0 * static_cast<double>(all.handed_on) / static_cast<double>(all.solves)
              << " % of " << all.solves << '\n';
    CHECK(all.handed_on < all.solves / 100);
    CHECK(all.optimal > all.solves / 5);
    CHECK(all.impossible > all.solves / 10);
    CHECK(all.compared > all.solves / 2);
  }

  TEST_CASE("the library answers the same with the kernel forced on, forced off and as it comes") {
    int blends = 0;
    int conflicts = 0;
    for (std::uint64_t seed = 920'000; seed < 920'150; ++seed) {
      CAPTURE(seed);
      const auto scenario = support::random_scenario(
          seed, {.materials = 8 + static_cast<int>(seed % 30), .either_or = seed % 4 != 0});
      const SolveOptions options{.intervals = seed % 3 == 0};
      const auto usual = formulate(scenario, options);
      for (const auto kernel : {Kernel::always, Kernel::never}) {
        const solver::ForcedKernel forced(kernel);
        check_same(formulate(scenario, options), usual);
      }
      blends += usual.blend() != nullptr;
      conflicts += usual.conflict() != nullptr;
    }
    CHECK(blends > 80);
    CHECK(conflicts > 5);
  }
}
