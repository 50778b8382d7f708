#include "trial/field.hpp"

#include <doctest/doctest.h>
#include <leastwise/trial_plan.hpp>

#include <set>
#include <utility>

#include "samples.hpp"
#include "trial/plots.hpp"

using namespace leastwise;
using namespace leastwise::trial;

namespace {

std::pair<int, int> at(const FieldLayout& field, int plots, int replicate, int position) {
  const GridPlace place = place_of(field, plots, replicate, position);
  return {place.row, place.column};
}

std::vector<TreatmentDraft> named(int count) {
  std::vector<TreatmentDraft> treatments(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    treatments[static_cast<std::size_t>(i)].name = "t" + std::to_string(i);
  }
  return treatments;
}

}  // namespace

TEST_SUITE("the field of a site") {
  TEST_CASE("without a word each replicate is a row of its own") {
    const FieldLayout field = completed({}, 5, 4);
    CHECK(field.columns == 5);
    CHECK(field.rows == 4);
    CHECK(at(field, 5, 0, 0) == std::pair(1, 1));
    CHECK(at(field, 5, 2, 4) == std::pair(3, 5));
  }

  TEST_CASE("a long replicate is folded into rows of at most 20") {
    const FieldLayout field = completed({}, 45, 2);
    CHECK(field.columns == 15);
    CHECK(field.rows == 6);
    CHECK(at(field, 45, 1, 0) == std::pair(4, 1));
  }

  TEST_CASE("a serpentine turns at the end of each row") {
    FieldLayout field;
    field.serpentine = true;
    field = completed(field, 5, 4);
    CHECK(at(field, 5, 0, 4) == std::pair(1, 5));
    CHECK(at(field, 5, 1, 0) == std::pair(2, 5));
    CHECK(at(field, 5, 1, 4) == std::pair(2, 1));
    CHECK(at(field, 5, 2, 0) == std::pair(3, 1));
  }

  TEST_CASE("replicates stand side by side where the field is wide enough") {
    FieldLayout field;
    field.columns = 7;
    field.block_columns = 3;
    field = completed(field, 6, 4);  // each 2 rows of 3, two of them side by side, one column free
    CHECK(field.rows == 4);
    CHECK(at(field, 6, 1, 0) == std::pair(1, 4));
    CHECK(at(field, 6, 1, 5) == std::pair(2, 6));
    CHECK(at(field, 6, 2, 0) == std::pair(3, 1));
  }

  TEST_CASE("no two plots share a place, however they lie") {
    for (const bool serpentine : {false, true}) {
      for (int plots = 1; plots <= 13; ++plots) {
        for (int width = 1; width <= plots; ++width) {
          for (int columns = width; columns <= 3 * width; ++columns) {
            FieldLayout field{columns, {}, width, serpentine};
            field = completed(field, plots, 5);
            std::set<std::pair<int, int>> places;
            for (int replicate = 0; replicate < 5; ++replicate) {
              for (int position = 0; position < plots; ++position) {
                const auto place = at(field, plots, replicate, position);
                CHECK(places.insert(place).second);
                CHECK(place.first <= *field.rows);
                CHECK(place.second <= columns);
              }
            }
          }
        }
      }
    }
  }

  TEST_CASE("plots follow one another on foot: a serpentine never jumps within a replicate") {
    FieldLayout field{4, {}, {}, true};
    field = completed(field, 12, 3);
    std::pair<int, int> last{0, 0};
    for (int replicate = 0; replicate < 3; ++replicate) {
      for (int position = 0; position < 12; ++position) {
        const auto place = at(field, 12, replicate, position);
        if (last.first > 0) {
          CHECK(std::abs(place.first - last.first) + std::abs(place.second - last.second) == 1);
        }
        last = place;
      }
    }
  }

  TEST_CASE("a plot knows its place on the map") {
    TrialDraft draft = trial_test::small_trial(named(6));
    draft.sites[0].field.columns = 3;
    draft.sites[0].field.serpentine = true;
    const auto plots = lay_out(Trial(draft));
    CHECK(plots[3].number == 104);
    CHECK(plots[3].row == 2);
    CHECK(plots[3].column == 3);
  }

  TEST_CASE("a field that is too small is an error that says what it takes") {
    TrialDraft draft = trial_test::small_trial(named(6));
    draft.sites[0].field.columns = 6;
    draft.sites[0].field.rows = 3;
    try {
      (void)Trial(draft);
      FAIL("no error");
    } catch (const InputError& error) {
      const std::string text = error.to_text();
      CHECK(text.find("4 replicates of 6 plots take 4 rows") != std::string::npos);
      CHECK(text.find("[field-too-small]") != std::string::npos);
    }
  }
}
