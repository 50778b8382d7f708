#include "trial/plan_fingerprint.hpp"

#include <array>
#include <cstdint>
#include <string_view>

namespace leastwise::trial {
namespace {

/// FNV-1a, 64 bits. Source of the constants: the algorithm's public definition, from memory.
class Hash {
 public:
  void add(std::string_view text) {
    for (const char c : text) byte(static_cast<unsigned char>(c));
    byte(0);
  }
  void add(std::int64_t number) {
    for (int i = 0; i < 8; ++i) byte(static_cast<unsigned char>(number >> (8 * i)));
  }
  [[nodiscard]] std::string text() const {
    constexpr std::string_view digits = "0123456789abcdef";
    const auto folded = static_cast<std::uint32_t>(value_ ^ (value_ >> 32));
    std::string text;
    for (int shift = 28; shift >= 0; shift -= 4) text += digits[(folded >> shift) & 15U];
    return text;
  }

 private:
  void byte(unsigned char b) {
    value_ ^= b;
    value_ *= 0x100000001b3U;
  }
  std::uint64_t value_ = 0xcbf29ce484222325U;
};

}  // namespace

std::string fingerprint_of(const TrialPlan& plan) {
  Hash hash;
  hash.add(plan.code);
  for (const auto& treatment : plan.treatments) {
    hash.add(treatment.name);
    for (const auto& code : treatment.batch_codes) hash.add(code);
    for (const auto& weighing : treatment.weighings) {
      hash.add(weighing.material);
      hash.add(weighing.mass_mg);
    }
  }
  for (const auto& mix : plan.mixes) {
    for (const auto& step : mix.steps) {
      for (const auto& weighing : step.weighings) {
        hash.add(weighing.material);
        hash.add(weighing.mass_mg);
      }
    }
  }
  for (const auto& plot : plan.plots) {
    hash.add(plot.code);
    hash.add(static_cast<std::int64_t>(plot.treatment));
    for (const auto& pack : plot.packs) hash.add(pack.mass_mg);
    for (const auto& spray : plot.sprays) hash.add(spray.mass_mg);
  }
  return hash.text();
}

}  // namespace leastwise::trial
