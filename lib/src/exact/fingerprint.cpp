#include "exact/fingerprint.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>

#include "exact/decimal.hpp"
#include "exact/exact_contents.hpp"

namespace leastwise::exact {
namespace {

/// Lists fields one behind the other, each with its length so that no two lists read the same.
class Listing {
 public:
  void add(std::string_view text) {
    text_ += std::to_string(text.size());
    text_ += ':';
    text_ += text;
  }
  void add(double value) {
    std::array<char, 40> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr;
    add(std::string_view(buffer.data(), static_cast<std::size_t>(end - buffer.data())));
  }
  void add(const std::optional<double>& value) { value ? add(*value) : add("-"); }
  void add(const Limits& limits) {
    add(limits.min);
    add(limits.max);
  }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string text_{};
};

void add_materials(const Scenario& scenario, Listing& listing) {
  for (std::size_t i = 0; i < scenario.materials().size(); ++i) {
    const Material& material = scenario.materials()[i];
    listing.add(material.name);
    listing.add(to_string(material.form_used()));
    listing.add(material.family);
    listing.add(material.price_per_t);
    listing.add(material.freight_per_t);
    listing.add(material.share_percent);
    listing.add(material.min_if_used_percent);
    listing.add(material.stock_kg);
    listing.add(material.micronutrient_granule ? "factor" : "whole");
    for (const auto& content : contents_of(scenario, i)) {
      listing.add(content.name);
      listing.add(to_text(content.percent));
    }
  }
}

void add_settings(const Scenario& scenario, Listing& listing) {
  listing.add(scenario.total_kg_per_ha());
  listing.add(static_cast<double>(scenario.bins().value_or(0)));
  listing.add(scenario.coating_max_percent());
  listing.add(scenario.binder().percent_of_powder);
  listing.add(scenario.binder().price_per_t);
  listing.add(scenario.blending_fee_per_t());
  listing.add(scenario.make_hectares());
  listing.add(scenario.make_tonnes());
  listing.add(scenario.draft().granular_micronutrient_factor);
  for (const auto& [nutrient, factor] : scenario.draft().granular_micronutrient_factors) {
    listing.add(nutrient);
    listing.add(factor);
  }
  for (const auto& element : scenario.draft().confirm_high_rate) listing.add(element);
  for (const auto& unasked : scenario.unasked())
    listing.add(scenario.materials()[unasked.material].name);
  for (const auto& ceiling : scenario.ceilings()) {
    listing.add(ceiling.element);
    listing.add(ceiling.kg_per_ha);
  }
  for (const auto& pair : scenario.exclusions()) {
    listing.add(pair.family_a);
    listing.add(pair.family_b);
  }
}

}  // namespace

std::string digest(std::string_view text) {
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  std::string digits(16, '0');
  for (std::size_t k = digits.size(); k-- > 0; hash >>= 4U)
    digits[k] = "0123456789abcdef"[hash % 16];
  return digits;
}

std::string fingerprint(const Scenario& scenario) {
  Listing listing;
  listing.add(scenario.title());
  listing.add(scenario.currency());
  listing.add(scenario.basis() == Basis::per_hectare ? "per hectare" : "per tonne");
  add_materials(scenario, listing);
  for (const auto targets : {scenario.rates(), scenario.grades()}) {
    listing.add(static_cast<double>(targets.size()));
    for (const auto& target : targets) {
      listing.add(target.nutrient);
      listing.add(target.limits);
      for (const double margin : target.margin_percent) listing.add(margin);
    }
  }
  for (const auto& ratio : scenario.ratios()) {
    listing.add(ratio.of);
    listing.add(ratio.to);
    listing.add(ratio.limits);
  }
  add_settings(scenario, listing);
  return digest(listing.text());
}

}  // namespace leastwise::exact
