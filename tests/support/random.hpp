#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>

namespace leastwise::support {

/// A stream of pseudo-random numbers that is the same on every platform and standard library.
///
/// xoshiro256** seeded through splitmix64, both by Blackman and Vigna (public domain). The standard
/// distributions are avoided on purpose: their output differs between implementations.
class Random {
 public:
  explicit Random(std::uint64_t seed) {
    for (auto& word : state_) {
      seed += 0x9e3779b97f4a7c15ULL;
      std::uint64_t z = seed;
      z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
      z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
      word = z ^ (z >> 31U);
    }
  }

  [[nodiscard]] std::uint64_t bits() {
    const std::uint64_t result = rotated(state_[1] * 5, 7) * 9;
    const std::uint64_t shifted = state_[1] << 17U;
    state_[2] ^= state_[0];
    state_[3] ^= state_[1];
    state_[1] ^= state_[2];
    state_[0] ^= state_[3];
    state_[2] ^= shifted;
    state_[3] = rotated(state_[3], 45);
    return result;
  }

  /// Uniform in [low, high).
  [[nodiscard]] double between(double low, double high) {
    const double unit = static_cast<double>(bits() >> 11U) * 0x1.0p-53;
    return low + (high - low) * unit;
  }

  /// Uniform in {low, ..., high}; both ends included.
  [[nodiscard]] int whole(int low, int high) {
    const auto count = static_cast<std::uint64_t>(high - low + 1);
    return low + static_cast<int>(bits() % count);
  }

  [[nodiscard]] std::size_t index(std::size_t size) { return bits() % size; }
  [[nodiscard]] bool chance(double probability) { return between(0, 1) < probability; }

  template <typename T>
  [[nodiscard]] const T& one_of(std::span<const T> values) {
    return values[index(values.size())];
  }

  template <typename Sequence>
  void shuffle(Sequence& values) {
    for (std::size_t i = values.size(); i > 1; --i) std::swap(values[i - 1], values[index(i)]);
  }

 private:
  [[nodiscard]] static constexpr std::uint64_t rotated(std::uint64_t word, unsigned by) {
    return (word << by) | (word >> (64U - by));
  }

  std::array<std::uint64_t, 4> state_{};
};

}  // namespace leastwise::support
