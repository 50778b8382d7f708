#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "base/embedded.hpp"
#include "reference/nutrients/published.hpp"

using namespace leastwise;
using published::kebab;

namespace {

std::size_t row_of(const Table& table, std::string_view column, const std::string& wanted) {
  for (std::size_t row = 0; row < table.size(); ++row) {
    if (table.text(row, column) == wanted) return row;
  }
  return table.size();
}

}  // namespace

// Source: critical relative humidity at 30 C; attribution to Adams and Merz 1929 from memory.
TEST_SUITE("humidity tables against the published ones") {
  TEST_CASE("pure salts") {
    const Table ours("critical_relative_humidity_pure.csv",
                     embedded::critical_relative_humidity_pure_csv());
    const Table theirs = published::table("humidity_pure.csv");
    CHECK(ours.size() == theirs.size());
    for (std::size_t row = 0; row < theirs.size(); ++row) {
      const std::string salt = kebab(theirs.text(row, "salt"));
      CAPTURE(salt);
      const std::size_t our_row = row_of(ours, "substance", salt);
      REQUIRE(our_row < ours.size());
      CHECK(ours.number(our_row, "humidity_percent") == theirs.number(row, "crh_percent"));
    }
  }

  TEST_CASE("pairs of salts, with what was seen told from what was recalled") {
    const Table ours("critical_relative_humidity_pairs.csv",
                     embedded::critical_relative_humidity_pairs_csv());
    const Table theirs = published::table("humidity_pairs.csv");
    CHECK(ours.size() == theirs.size());
    for (std::size_t row = 0; row < theirs.size(); ++row) {
      const std::string a = kebab(theirs.text(row, "salt_a"));
      const std::string b = kebab(theirs.text(row, "salt_b"));
      CAPTURE(a);
      CAPTURE(b);
      std::size_t our_row = 0;
      while (our_row < ours.size() && (ours.text(our_row, "substance_a") != std::min(a, b) ||
                                       ours.text(our_row, "substance_b") != std::max(a, b))) {
        ++our_row;
      }
      REQUIRE(our_row < ours.size());
      CHECK(ours.number(our_row, "humidity_percent") == theirs.number(row, "crh_percent"));
      CHECK((ours.text(our_row, "status") == "seen") == (theirs.text(row, "status") == "seen"));
    }
  }
}
