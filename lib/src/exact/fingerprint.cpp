#include "exact/fingerprint.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>

#include "exact/decimal.hpp"
#include "exact/exact_contents.hpp"
#include "scenario/rules.hpp"

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
    for (const auto& content : contents_of(scenario, i)) {
      listing.add(content.name);
      listing.add(to_text(content.percent));
    }
  }
}

/// The rule, its limit, and what it counts beside the contents of the materials.
void add_rule(const rules::Rule& rule, Listing& listing) {
  listing.add(to_string(rule.id.kind));
  listing.add(rule.id.subject);
  listing.add(rule.id.object);
  listing.add(to_string(rule.side));
  listing.add(rule.limit);
  listing.add(rule.scale());
  for (const double margin : rule.of.margin_percent) listing.add(margin);
  for (const double reach : rule.of.availability) listing.add(reach);
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
  if (scenario.draft().units != Units::metric) listing.add(to_string(scenario.draft().units));
  listing.add(scenario.basis() == Basis::per_hectare ? "per hectare" : "per tonne");
  add_materials(scenario, listing);
  listing.add(scenario.binder().percent_of_powder);
  listing.add(scenario.binder().price_per_t);
  listing.add(scenario.blending_fee_per_t());
  for (const auto& rule : rules::rules_of(scenario)) add_rule(rule, listing);
  return digest(listing.text());
}

bool is_of(std::string_view proof, const Scenario& scenario) {
  const bool by_quantity = scenario.has_price_tiers() ||
                           std::ranges::any_of(scenario.materials(), [](const Material& m) {
                             return m.minimum_lot_t.has_value();
                           });
  return !by_quantity && proof == fingerprint(scenario);
}

}  // namespace leastwise::exact
