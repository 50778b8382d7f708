#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>
#include <tuple>
#include <vector>

#include "samples.hpp"
#include "trial/alpha_design.hpp"
#include "trial/latin_square.hpp"
#include "trial/plots.hpp"

using namespace leastwise;
using namespace leastwise::trial;

namespace {

TrialDraft with_design(Design design, int treatments, int replicates) {
  std::vector<TreatmentDraft> drafts(static_cast<std::size_t>(treatments));
  for (int i = 0; i < treatments; ++i) {
    drafts[static_cast<std::size_t>(i)].name = "t" + std::to_string(i);
  }
  TrialDraft draft = trial_test::small_trial(drafts);
  draft.seed = 11;
  draft.sites[0].design = design;
  draft.sites[0].replicates = replicates;
  return draft;
}

}  // namespace

TEST_SUITE("designs") {
  TEST_CASE("there are as many reduced Latin squares as published") {
    // 1, 1, 1, 4, 56, 9408 for sizes 1 to 6: Fisher and Yates, "The 6 x 6 Latin squares",
    // Proceedings of the Cambridge Philosophical Society 30 (1934) (from memory).
    const std::vector<std::size_t> published{1, 1, 1, 4, 56, 9408};
    for (std::size_t size = 1; size <= published.size(); ++size) {
      CHECK(count_reduced_squares(size) == published[size - 1]);
    }
  }

  TEST_CASE("each of the 576 Latin squares of size 4 is about equally likely") {
    // 4! x 3! x 4 squares.
    std::map<LatinSquare, int> count;
    constexpr int each = 100;
    for (std::uint64_t seed = 0; seed < 576 * each; ++seed) {
      RandomOrder random(seed, 0, 0);
      ++count[random_latin_square(4, random)];
    }
    CHECK(count.size() == 576);
    double chi_square = 0;
    for (const auto& [square, times] : count) {
      chi_square += (times - each) * (times - each) / static_cast<double>(each);
    }
    // 575 degrees of freedom: mean 575, standard deviation 34.
    CHECK(chi_square < 575 + 5 * 34);
    CHECK(chi_square > 575 - 5 * 34);
  }

  TEST_CASE("Latin squares come from the published transformation sets as often as these hold") {
    // Reduced squares of size 4: 3 and 1; of size 5: 50 and 6. The set of 1 is the one in which
    // every pair of rows holds intercalates (12 in all); the 6 hold none. Fisher and Yates,
    // "Statistical Tables", Latin squares (from memory).
    const auto intercalates = [](const LatinSquare& square) {
      int count = 0;
      const std::size_t size = square.size();
      for (std::size_t a = 0; a < size; ++a)
        for (std::size_t b = a + 1; b < size; ++b)
          for (std::size_t c = 0; c < size; ++c)
            for (std::size_t d = c + 1; d < size; ++d)
              count += square[a][c] == square[b][d] && square[a][d] == square[b][c] ? 1 : 0;
      return count;
    };
    constexpr int draws = 5600;
    int klein = 0;
    int cyclic = 0;
    for (std::uint64_t seed = 0; seed < draws; ++seed) {
      RandomOrder four(seed, 4, 0);
      RandomOrder five(seed, 5, 0);
      klein += intercalates(random_latin_square(4, four)) == 12 ? 1 : 0;
      cyclic += intercalates(random_latin_square(5, five)) == 0 ? 1 : 0;
    }
    // Standard deviations 32 and 23.
    CHECK(std::abs(klein - draws / 4) < 5 * 32);
    CHECK(std::abs(cyclic - draws * 6 / 56) < 5 * 23);
  }

  TEST_CASE("each of the 24 orders of a block of four is about equally likely") {
    // 4! orders; Fisher, "The Design of Experiments": every treatment an equal chance of any plot.
    std::map<std::vector<std::size_t>, int> count;
    constexpr int each = 100;
    for (std::uint64_t seed = 0; seed < 24 * each; ++seed) {
      TrialDraft draft = with_design(Design::complete_blocks, 4, 1);
      draft.seed = seed;
      std::vector<std::size_t> order;
      for (const auto& plot : lay_out(Trial(draft))) order.push_back(plot.treatment);
      ++count[order];
    }
    CHECK(count.size() == 24);
    double chi_square = 0;
    for (const auto& [order, times] : count)
      chi_square += (times - each) * (times - each) / static_cast<double>(each);
    CHECK(chi_square < 23 + 5 * 6.8);  // 23 degrees of freedom: mean 23, standard deviation 6.8
    CHECK(chi_square > 23 - 3 * 6.8);
  }

  TEST_CASE("every number stands once in each row and column of a Latin square") {
    for (std::size_t size = 2; size <= 12; ++size) {
      RandomOrder random(2026, size, 1);
      const LatinSquare square = random_latin_square(size, random);
      for (std::size_t i = 0; i < size; ++i) {
        std::set<std::size_t> row;
        std::set<std::size_t> column;
        for (std::size_t k = 0; k < size; ++k) {
          row.insert(square[i][k]);
          column.insert(square[k][i]);
        }
        CHECK(row.size() == size);
        CHECK(column.size() == size);
      }
    }
  }

  TEST_CASE("square lattices have the efficiency of the textbook") {
    // E = (k + 1)(r - 1) / ((k + 1)(r - 1) + r) for k^2 treatments in blocks of k: W. G. Cochran
    // and G. M. Cox, "Experimental Designs", chapter on lattices (from memory). A balanced lattice,
    // r = k + 1, comes to k / (k + 1).
    for (const std::size_t k : {3U, 4U, 5U, 7U}) {
      for (std::size_t r = 2; r <= (k == 4 ? 3 : k + 1); ++r) {
        CAPTURE(k);
        CAPTURE(r);
        const auto within = static_cast<double>((k + 1) * (r - 1));
        CHECK(efficiency_factor(alpha_design(k * k, k, r), k * k) ==
              doctest::Approx(within / (within + static_cast<double>(r))).epsilon(1e-9));
      }
    }
    CHECK(efficiency_factor(alpha_design(25, 5, 6), 25) == doctest::Approx(5.0 / 6));
  }

  TEST_CASE("an alpha design is resolvable, near its bound, and repeats few meetings") {
    struct Size {
      std::size_t count;
      std::size_t block;
      std::size_t replicates;
      int most_meetings;
    };
    for (const Size& size : {Size{20, 4, 3, 1}, Size{30, 5, 3, 1}, Size{11, 3, 3, 1},
                             Size{24, 6, 4, 2}, Size{50, 8, 4, 3}, Size{100, 10, 3, 1}}) {
      const auto design = alpha_design(size.count, size.block, size.replicates);
      CAPTURE(size.count);
      REQUIRE(design.size() == size.replicates);
      std::map<std::pair<std::size_t, std::size_t>, int> meetings;
      int most = 0;
      for (const auto& replicate : design) {
        std::set<std::size_t> seen;
        for (const auto& block : replicate) {
          CHECK(block.size() <= size.block);
          CHECK(block.size() + 1 >= size.block);
          for (const auto a : block) {
            CHECK(seen.insert(a).second);
            for (const auto b : block) {
              if (a < b) most = std::max(most, ++meetings[{a, b}]);
            }
          }
        }
        CHECK(seen.size() == size.count);
      }
      CHECK(most <= size.most_meetings);
      const double factor = efficiency_factor(design, size.count);
      const std::size_t blocks = (size.count + size.block - 1) / size.block;
      CHECK(factor <= efficiency_bound(size.count, blocks, size.replicates) + 1e-9);
      CHECK(factor > 0.9 * efficiency_bound(size.count, blocks, size.replicates));
    }
  }

  TEST_CASE("labels that are never compared have no efficiency") {
    CHECK(efficiency_factor({{{0, 1}, {2, 3}}, {{1, 0}, {3, 2}}}, 4) == 0);
  }

  TEST_CASE("a Latin square lies in the rows and columns of the map, serpentine or not") {
    for (const bool serpentine : {false, true}) {
      TrialDraft draft = with_design(Design::latin_square, 5, 5);
      draft.sites[0].field.serpentine = serpentine;
      std::set<std::pair<int, std::size_t>> rows;
      std::set<std::pair<int, std::size_t>> columns;
      const auto plots = lay_out(Trial(draft));
      CHECK(plots.size() == 25);
      for (const auto& plot : plots) {
        rows.insert({plot.row, plot.treatment});
        columns.insert({plot.column, plot.treatment});
      }
      CHECK(rows.size() == 25);
      CHECK(columns.size() == 25);
    }
  }

  TEST_CASE("a split plot keeps the treatments of a whole plot side by side") {
    TrialDraft draft = with_design(Design::split_plot, 6, 4);
    for (std::size_t i = 0; i < 6; ++i) draft.treatments[i].whole_plot = i % 2 == 0 ? "wet" : "dry";
    std::map<std::tuple<int, int>, std::set<std::size_t>> whole;
    std::set<std::size_t> first;
    for (const auto& plot : lay_out(Trial(draft))) {
      whole[{plot.replicate, plot.block}].insert(plot.treatment);
      CHECK(plot.block == (plot.number % 100 - 1) / 3 + 1);
      if (plot.number % 100 == 1) first.insert(plot.treatment % 2);
    }
    CHECK(whole.size() == 8);
    for (const auto& entry : whole) {
      const std::set<std::size_t>& treatments = entry.second;
      CHECK(treatments.size() == 3);
      CHECK(std::ranges::all_of(treatments,
                                [&](std::size_t t) { return t % 2 == *treatments.begin() % 2; }));
    }
    CHECK(first.size() == 2);  // the whole plots change places
  }

  TEST_CASE("incomplete blocks hold every treatment once in each replicate") {
    TrialDraft draft = with_design(Design::incomplete_blocks, 11, 3);
    draft.sites[0].block_size = 3;
    const Trial trial(draft);
    std::map<int, std::set<std::size_t>> replicates;
    std::map<std::pair<int, int>, std::set<int>> rows;
    for (const auto& plot : lay_out(trial)) {
      CHECK(replicates[plot.replicate].insert(plot.treatment).second);
      rows[{plot.replicate, plot.block}].insert(plot.row);
    }
    for (const auto& [replicate, treatments] : replicates) CHECK(treatments.size() == 11);
    CHECK(rows.size() == 12);
    for (const auto& [block, row] : rows) CHECK(row.size() == 1);  // each in a row of its own
    CHECK(trial.sites()[0].efficiency_factor > 0.6);
    CHECK(trial.sites()[0].efficiency_factor <= trial.sites()[0].efficiency_bound);
  }

  TEST_CASE("a control may stand twice, and a treatment in some replicates only") {
    TrialDraft draft = with_design(Design::complete_blocks, 4, 3);
    draft.treatments[0].repeat = 2;
    draft.treatments[3].replicates = 1;
    std::map<std::pair<int, std::size_t>, int> count;
    for (const auto& plot : lay_out(Trial(draft))) ++count[{plot.replicate, plot.treatment}];
    CHECK(count[{1, 0}] == 2);
    CHECK(count[{3, 0}] == 2);
    CHECK(count[{1, 3}] == 1);
    CHECK(count.count({2, 3}) == 0);
  }

  TEST_CASE("unequal plots get what their own area takes") {
    TrialDraft draft = trial_test::small_trial({trial_test::recipe(250, 0)});
    draft.sites[0].plot_area_m2.reset();
    draft.sites[0].plot_areas_m2 = {20, 24, 20, 18.5};
    const TrialPlan plan = plan_trial(Trial(draft));
    REQUIRE(plan.plots.size() == 4);
    // 250 kg/ha is 25 g per square metre.
    CHECK(plan.plots[1].packs[0].mass_mg == 600'000);
    CHECK(plan.plots[3].packs[0].mass_mg == 462'500);
    CHECK(plan.treatments[0].packs_mg == 25'000 * 825 / 10);
    CHECK(plan.treatments[0].area_m2 == doctest::Approx(82.5));
  }

  TEST_CASE("rows of a crop make the width of a plot") {
    TrialDraft draft = trial_test::small_trial({trial_test::recipe(200, 0)});
    draft.sites[0].plot_area_m2.reset();
    draft.sites[0].plot_length_m = 10;
    draft.sites[0].plot_rows = 4;
    draft.sites[0].row_spacing_m = 0.75;
    CHECK(Trial(draft).sites()[0].plot_area_m2 == doctest::Approx(30));
  }

  TEST_CASE("guard plots stand beyond both ends of each row and take product") {
    TrialDraft draft = trial_test::small_trial({trial_test::recipe(200, 0)});
    draft.sites[0].field.guard_plots = 1;
    draft.sites[0].field.guard_treatment = draft.treatments[0].name;
    const TrialPlan plan = plan_trial(Trial(draft));
    CHECK(plan.plots.size() == 12);
    const auto guards = std::ranges::count_if(plan.plots, &Plot::guard);
    CHECK(guards == 8);
    CHECK(plan.plots.back().code == "ST-H-G8");
    CHECK(plan.plots.back().column == 2);
    CHECK(plan.treatments[0].plots == 12);
    CHECK(plan.treatments[0].packs_mg == 12 * 400'000);
  }
}
