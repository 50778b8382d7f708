#include "random_program.hpp"

#include <algorithm>
#include <cmath>

namespace leastwise::testing {
namespace {

using model::infinity;
using solver::LinearProgram;
using support::Random;

void add_columns(Random& random, Hardship hardship, LinearProgram& data) {
  data.columns = random.whole(2, hardship == Hardship::larger ? 61 : 26);
  for (int j = 0; j < data.columns; ++j) {
    const double lower = random.chance(0.1) ? random.between(0, 20) : 0;
    const bool closed = random.chance(0.1);
    const bool bounded = closed || random.chance(0.2);
    data.lower.push_back(lower);
    data.upper.push_back(closed ? lower : bounded ? lower + random.between(0, 300) : infinity);
    double cost = random.between(0.05, 1);
    if (hardship == Hardship::degenerate) cost = random.whole(1, 3);
    if (hardship == Hardship::gate_fees && random.chance(0.15)) cost = -random.between(0, 1);
    data.cost.push_back(cost);
    data.entries.push_back({j, 1});
  }
}

void close_row(double lower, double upper, LinearProgram& data) {
  data.row_start.push_back(static_cast<int>(data.entries.size()));
  data.row_lower.push_back(std::min(lower, upper));
  data.row_upper.push_back(std::max(lower, upper));
  ++data.rows;
}

double coefficient(Random& random, Hardship hardship) {
  const bool negative = random.chance(hardship == Hardship::ranges ? 0.5 : 0.08);
  const double size =
      hardship == Hardship::degenerate ? 0.1 * random.whole(1, 5) : random.between(0.01, 0.6);
  return negative ? -size : size;
}

void add_row(Random& random, Hardship hardship, LinearProgram& data) {
  const double scale = hardship == Hardship::scaled ? std::pow(10, random.between(-6, 4)) : 1;
  double limit = scale * (hardship == Hardship::degenerate ? 10 * random.whole(0, 19)
                                                           : random.between(5, 250));
  if (random.chance(0.15)) limit = 0;
  if (hardship == Hardship::parallel && data.rows > 1 && random.chance(0.7)) {
    const auto other = random.index(static_cast<std::size_t>(data.rows - 1)) + 1;
    const double apart = std::pow(10, -random.between(3, 7));
    for (int e = data.row_start[other]; e < data.row_start[other + 1]; ++e) {
      const auto entry = data.entries[static_cast<std::size_t>(e)];
      data.entries.push_back({entry.column, entry.value * (1 + apart * random.between(-1, 1))});
    }
    const double near =
        std::isfinite(data.row_lower[other]) ? data.row_lower[other] : data.row_upper[other];
    if (std::isfinite(near)) limit = near;
  } else {
    for (int j = 0; j < data.columns; ++j)
      if (random.chance(0.4)) data.entries.push_back({j, scale * coefficient(random, hardship)});
  }
  switch (random.whole(0, 7)) {
    case 0:
      return close_row(limit, limit, data);
    case 1:
      return close_row(-infinity, infinity, data);
    case 2:
      return close_row(limit, limit * random.between(1, 2), data);
    case 3:
    case 4:
      return close_row(-infinity, limit, data);
    default:
      return close_row(limit, infinity, data);
  }
}

}  // namespace

const char* to_string(Hardship hardship) {
  switch (hardship) {
    case Hardship::none:
      return "ordinary";
    case Hardship::degenerate:
      return "degenerate";
    case Hardship::ranges:
      return "ranges";
    case Hardship::scaled:
      return "scaled";
    case Hardship::larger:
      return "larger";
    case Hardship::gate_fees:
      return "gate fees";
    case Hardship::parallel:
      break;
  }
  return "nearly parallel";
}

LinearProgram random_program(Random& random, Hardship hardship) {
  LinearProgram data;
  add_columns(random, hardship, data);
  const bool within = hardship == Hardship::ranges;
  close_row(within ? 100 : 1000, within ? random.between(120, 2000) : 1000, data);
  for (int more = random.whole(1, hardship == Hardship::larger ? 40 : 14); more > 0; --more)
    add_row(random, hardship, data);
  return data;
}

}  // namespace leastwise::testing
