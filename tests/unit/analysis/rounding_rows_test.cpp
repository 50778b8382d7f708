#include "analysis/rounding/rounding_rows.hpp"

#include <doctest/doctest.h>

#include <optional>

using namespace leastwise;
using analysis::GridModel;
using analysis::GridRows;

namespace {

/// Goods in whole steps of 1 kg under rows of their own.
struct Goods {
  GridModel grid{};

  explicit Goods(std::size_t count) {
    auto& m = grid.model;
    grid.unit = 1;
    m.columns = static_cast<int>(count);
    m.row_start = {0};
    m.cost.assign(count, 1.0);
    m.column_lower.assign(count, 0.0);
    m.column_upper.assign(count, 1000.0);
    for (std::size_t j = 0; j < count; ++j) grid.grid.push_back(static_cast<int>(j));
  }

  Goods& row(const std::vector<double>& values, double lower, double upper) {
    auto& m = grid.model;
    for (std::size_t j = 0; j < values.size(); ++j)
      if (values[j] != 0) m.entries.push_back({static_cast<int>(j), values[j]});
    m.row_start.push_back(static_cast<int>(m.entries.size()));
    m.row_lower.push_back(lower);
    m.row_upper.push_back(upper);
    ++m.rows;
    return *this;
  }

  [[nodiscard]] std::optional<solver::NodeBounds> narrowed() const {
    solver::NodeBounds bounds;
    bounds.lower = grid.model.column_lower;
    bounds.upper = grid.model.column_upper;
    if (!GridRows(grid).narrow(bounds)) return std::nullopt;
    return bounds;
  }
};

}  // namespace

TEST_SUITE("rows of a grid") {
  TEST_CASE("a sum that no whole numbers give is told without a linear program") {
    // 0.46 a + 0.18 b is a whole number of fiftieths, 10.01 is not.
    CHECK_FALSE(Goods(2).row({0.46, 0.18}, 10.01, 10.01).narrowed());
    CHECK(Goods(2).row({0.46, 0.18}, 10, 10).narrowed());
  }

  TEST_CASE("what is within the tolerance of a check is not ruled out") {
    CHECK(Goods(2).row({0.46, 0.18}, 10 + 5e-7, 10 + 5e-7).narrowed());
    CHECK_FALSE(Goods(2).row({0.46, 0.18}, 10 + 5e-6, 10 + 5e-6).narrowed());
  }

  TEST_CASE("ranges shrink to what meets the row") {
    // 46 a + 18 b = 1000: a = 1 + 9 k and b = 53 - 23 k, so (1, 53), (10, 30) and (19, 7) alone.
    const auto bounds = Goods(2).row({46, 18}, 1000, 1000).narrowed();
    REQUIRE(bounds);
    CHECK(bounds->lower[0] == 1);
    CHECK(bounds->upper[0] == 19);
    CHECK(bounds->lower[1] == 7);
    CHECK(bounds->upper[1] == 53);
  }

  TEST_CASE("two rows that leave nothing in common") {
    // The first leaves a = 1, 10 or 19, the second a window without either.
    CHECK_FALSE(Goods(2).row({46, 18}, 1000, 1000).row({1, 0}, 11, 18).narrowed());
    CHECK(Goods(2).row({46, 18}, 1000, 1000).row({1, 0}, 11, 19).narrowed());
  }

  TEST_CASE("a row with room is left to the linear program, but narrows ranges") {
    const auto bounds = Goods(2).row({2, 1}, 0, 7.5).narrowed();
    REQUIRE(bounds);
    CHECK(bounds->upper[0] == 3);
    CHECK(bounds->upper[1] == 7);
  }

  TEST_CASE("amounts that are not counted in steps keep their freedom") {
    Goods goods(2);
    goods.grid.grid = {0};
    CHECK(goods.row({46, 18}, 1001, 1001).narrowed());
  }
}
