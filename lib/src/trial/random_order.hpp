#pragma once
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace leastwise::trial {

/// A stream of pseudo-random numbers that is the same on every platform and standard library, so
/// that a seed gives the same layout everywhere.
///
/// splitmix64 (Steele, Lea and Flood 2014; constants from memory). Bounded numbers by rejection,
/// so that every order is equally likely.
class RandomOrder {
 public:
  /// An independent stream for each replicate of each site.
  RandomOrder(std::uint64_t seed, std::uint64_t site, std::uint64_t replicate) : state_(seed) {
    state_ = bits() ^ (site * 0xd1342543de82ef95ULL + 1);
    state_ = bits() ^ (replicate * 0xaf251af3b0f025b5ULL + 1);
  }

  /// Puts `items` in a random order (Fisher and Yates).
  template <typename T>
  void shuffle(std::vector<T>& items) {
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[below(i)]);
  }

  /// A number from 0 to `count` - 1, each equally likely.
  std::size_t below(std::size_t count) {
    const std::uint64_t n = count;
    const std::uint64_t uneven = (0 - n) % n;  // 2^64 mod n
    std::uint64_t drawn = bits();
    while (drawn < uneven) drawn = bits();
    return static_cast<std::size_t>(drawn % n);
  }

 private:
  std::uint64_t bits() {
    state_ += 0x9e3779b97f4a7c15ULL;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31U);
  }

  std::uint64_t state_;
};

}  // namespace leastwise::trial
