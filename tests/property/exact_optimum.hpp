#pragma once
#include <boost/multiprecision/cpp_int.hpp>

#include <optional>

#include "support/reading.hpp"

namespace leastwise::support {

using Rational = boost::multiprecision::number<boost::multiprecision::cpp_rational_backend,
                                               boost::multiprecision::et_off>;

/// The least cost of a tiny scenario in exact arithmetic; nothing when no blend exists.
///
/// Every allowed choice of materials is tried, and for each every vertex of its polyhedron, so no
/// tolerance and no solver is involved. `slack` (relative to the limit, or to a kilogram of the
/// largest coefficient where the limit is 0) widens every row: to recognise borderline cases.
[[nodiscard]] std::optional<Rational> exact_optimum(const Reading& reading,
                                                    const Rational& slack = 0);

}  // namespace leastwise::support
