#include "base/numeric/normal_quantile.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/numeric/wide_loops.hpp"

namespace leastwise {
namespace {

using Coefficients = std::array<double, 8>;

constexpr Coefficients central_above{3.3871328727963666080e0,  1.3314166789178437745e+2,
                                     1.9715909503065514427e+3, 1.3731693765509461125e+4,
                                     4.5921953931549871457e+4, 6.7265770927008700853e+4,
                                     3.3430575583588128105e+4, 2.5090809287301226727e+3};
constexpr Coefficients central_below{1.0,
                                     4.2313330701600911252e+1,
                                     6.8718700749205790830e+2,
                                     5.3941960214247511077e+3,
                                     2.1213794301586595867e+4,
                                     3.9307895800092710610e+4,
                                     2.8729085735721942674e+4,
                                     5.2264952788528545610e+3};
constexpr Coefficients near_above{1.42343711074968357734e0,  4.63033784615654529590e0,
                                  5.76949722146069140550e0,  3.64784832476320460504e0,
                                  1.27045825245236838258e0,  2.41780725177450611770e-1,
                                  2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr Coefficients near_below{1.0,
                                  2.05319162663775882187e0,
                                  1.67638483018380384940e0,
                                  6.89767334985100004550e-1,
                                  1.48103976427480074590e-1,
                                  1.51986665636164571966e-2,
                                  5.47593808499534494600e-4,
                                  1.05075007164441684324e-9};
constexpr Coefficients far_above{6.65790464350110377720e0,  5.46378491116411436990e0,
                                 1.78482653991729133580e0,  2.96560571828504891230e-1,
                                 2.65321895265761230930e-2, 1.24266094738807843860e-3,
                                 2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr Coefficients far_below{1.0,
                                 5.99832206555887937690e-1,
                                 1.36929880922735805310e-1,
                                 1.48753612908506148525e-2,
                                 7.86869131145613259100e-4,
                                 1.84631831751005468180e-5,
                                 1.42151175831644588870e-7,
                                 2.04426310338993978564e-15};

double polynomial(const Coefficients& c, double x) {
  return ((((((c[7] * x + c[6]) * x + c[5]) * x + c[4]) * x + c[3]) * x + c[2]) * x + c[1]) * x +
         c[0];
}

constexpr double central = 0.425;

double central_quantile(double q) {
  const double r = central * central - q * q;
  return q * polynomial(central_above, r) / polynomial(central_below, r);
}

/// Beyond this root of the logarithm the third pair of polynomials holds.
constexpr double near_tail = 5;

double tail_root(double share) { return std::sqrt(-std::log(share)); }

double near_quantile(double root) {
  const double r = root - 1.6;
  return polynomial(near_above, r) / polynomial(near_below, r);
}

double far_quantile(double root) {
  const double r = root - near_tail;
  return polynomial(far_above, r) / polynomial(far_below, r);
}

/// As if all lay in the middle: without branches, so that the loop does several at once.
LEASTWISE_WIDE_LOOPS void replace_by_central(double* p, std::size_t count) {
  for (std::size_t k = 0; k < count; ++k) p[k] = central_quantile(p[k] - 0.5);
}

}  // namespace

double normal_quantile(double p) {
  const double q = p - 0.5;
  if (std::fabs(q) <= central) return central_quantile(q);
  const double root = tail_root(q < 0 ? p : 1 - p);
  const double z = root <= near_tail ? near_quantile(root) : far_quantile(root);
  return q < 0 ? -z : z;
}

void normal_quantiles(std::span<double> p) {
  constexpr std::size_t block = 32;
  std::array<double, block> tail{};
  std::array<std::size_t, block> place{};
  for (std::size_t from = 0; from < p.size(); from += block) {
    const auto part = p.subspan(from, std::min(block, p.size() - from));
    std::size_t tails = 0;
    for (std::size_t k = 0; k < part.size(); ++k) {
      tail[tails] = part[k];
      place[tails] = k;
      tails += std::fabs(part[k] - 0.5) <= central ? 0U : 1U;
    }
    replace_by_central(part.data(), part.size());
    for (std::size_t k = 0; k < tails; ++k) part[place[k]] = normal_quantile(tail[k]);
  }
}

double normal_share_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

}  // namespace leastwise
