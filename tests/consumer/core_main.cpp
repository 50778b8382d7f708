// A program that reads JSON only, linked to the library without YAML.
#include <leastwise/leastwise.hpp>

#include <iostream>
#include <string_view>

// 46 kg/ha of N from urea of 46 % N at 460 per t: 100 kg/ha for 46 per ha.
int main() {
  constexpr std::string_view json = R"({"leastwise": 1,
    "materials": {"urea": {"form": "granule", "contains_percent": {"N": 46}, "price_per_t": 460}},
    "rates_kg_per_ha": {"N": {"min": 46}}})";
  constexpr std::string_view yaml = "leastwise: 1\nmaterials: {urea: {price_per_t: 460}}\n";
  const std::string report = leastwise::run("blend", json, R"({"intervals": false})");
  if (report.find("\"cost_per_ha\": 46.0") == std::string::npos ||
      report.find("\"status\": \"optimal\"") == std::string::npos) {
    std::cerr << "not the blend expected:\n" << report;
    return 1;
  }
  const std::string refused = leastwise::run("blend", yaml);
  if (refused.find("\"status\": \"rejected\"") == std::string::npos ||
      refused.find("expected JSON") == std::string::npos) {
    std::cerr << "YAML was not refused as it should be:\n" << refused;
    return 1;
  }
  std::cout << "as expected\n";
}
