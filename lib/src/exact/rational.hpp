#pragma once
#include <boost/multiprecision/cpp_int.hpp>

namespace leastwise::exact {

/// Whole numbers and fractions of any size, without rounding.
using Integer = boost::multiprecision::number<boost::multiprecision::cpp_int_backend<>,
                                              boost::multiprecision::et_off>;
using Rational = boost::multiprecision::number<boost::multiprecision::cpp_rational_backend,
                                               boost::multiprecision::et_off>;

}  // namespace leastwise::exact
