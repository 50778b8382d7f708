#include "chemistry/hazard/content_hazards.hpp"

#include <leastwise/compatibility.hpp>
#include <leastwise/nutrient.hpp>
#include <leastwise/toxic_element.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <utility>

#include "chemistry/hazard/hazard_table.hpp"
#include "chemistry/materials/published_figures.hpp"

namespace leastwise {
namespace {

constexpr std::string_view stoichiometry = "stoichiometry, computed";
constexpr std::string_view nitrate_source = "UN Model Regulations, Division 5.1 (from memory)";
constexpr std::string_view combustible_limit = "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a)";
constexpr double most_carbon_percent = 0.2;  ///< of ammonium nitrate, by that regulation
constexpr double most_sulfate_sulfur_percent = 28;
constexpr double least_urea_nitrogen_percent = 36;  ///< no other solid holds so much
constexpr double least_nitrate_nitrogen_percent = 20;
constexpr double open_forms = 0.5;  ///< room for the rounding of stated forms, percent of N

/// A metal, and the most of it that any of its oxides holds, percent.
struct MetalLimit {
  std::string_view symbol{};
  std::string_view oxide{};
  double percent = 0;
};

constexpr std::array<MetalLimit, 10> metal_limits{{
    {"Zn", "zinc oxide", 80.4},
    {"Fe", "iron oxides", 77.8},
    {"Mg", "magnesium oxide", 60.4},
    {"Cu", "copper oxides", 88.9},
    {"Mn", "manganese oxides", 77.5},
    {"Al", "aluminium oxide", 53.0},
    {"Si", "silica", 46.8},
    {"Ca", "calcium oxide", 71.5},
    {"Co", "cobalt oxides", 78.7},
    {"Ni", "nickel oxides", 78.6},
}};

/// Families whose nitrogen is no nitrate, and the least of it that shows them. Goods of urea with
/// sulfate reach down to 33 %, and state their forms. Source: stoichiometry.
struct ExplainedFamily {
  std::string_view family{};
  double least_nitrogen_percent = 0;
};

constexpr std::array<ExplainedFamily, 7> explained_families{{
    {"ammonium-chloride", 0},
    {"ammonium-phosphate-sulfur", 0},
    {"ammonium-sulfate", 0},
    {"coated-urea", least_urea_nitrogen_percent},
    {"diammonium-phosphate", 0},
    {"monoammonium-phosphate", 0},
    {"urea", least_urea_nitrogen_percent},
}};

std::string with_percent(double percent) {
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%.4g", percent);
  return std::string(text.data()) + " %";
}

class ContentReading {
 public:
  ContentReading(const Material& material, Nature& nature) : material_(material), nature_(nature) {}

  void read() {
    read_properties();
    read_sulfur();
    read_metals();
    read_nitrogen();
    read_lime();
  }

 private:
  [[nodiscard]] double percent(std::string_view name) const {
    return content_percent(material_, name);
  }

  void add(HazardClass kind, std::string reason, std::string_view source, std::string detail = {}) {
    nature_.hazards.push_back(
        {kind, Evidence::contents, std::move(reason), std::string(source), std::move(detail)});
  }

  void read_properties() {
    for (const auto& content : material_.contains_percent) {
      // A lime need is no lime.
      if (kind_of(content.name) != NameKind::property || is_published_figure(content.name) ||
          content.percent <= most_carbon_percent) {
        continue;
      }
      for (const auto* row : rows_of_property(content.name)) {
        add(row->kind,
            "it states " + with_percent(content.percent) + " of '" + content.name + "', and " +
                row->reason,
            row->source);
      }
    }
  }

  void read_sulfur() {
    const double sulfur = percent("S");
    if (sulfur <= most_sulfate_sulfur_percent || is_of_formula()) return;
    add(HazardClass::fuel,
        "it states " + with_percent(sulfur) +
            " of S, more than sulfates can hold: sulfur that is not bound burns",
        stoichiometry);
  }

  void read_metals() {
    for (const auto& limit : metal_limits) {
      const double metal = percent(limit.symbol);
      if (metal <= limit.percent) continue;
      add(HazardClass::fuel,
          "it states " + with_percent(metal) + " of " + std::string(limit.symbol) + ", more than " +
              std::string(limit.oxide) + " can hold: it is metal, which burns",
          stoichiometry);
    }
    constexpr double least_copper_percent = 0.05;
    if (percent("Cu") >= least_copper_percent) {
      add(HazardClass::copper, "it states " + with_percent(percent("Cu")) + " of Cu",
          combustible_limit);
    }
    for (const auto& toxic : toxic_elements()) {
      if (percent(toxic.symbol) < toxic.from_percent) continue;
      add(HazardClass::toxic_element,
          "it states " + with_percent(percent(toxic.symbol)) + " of " + toxic.symbol, toxic.source,
          toxic.symbol);
    }
  }

  /// Calcium and magnesium that carbonates cannot hold are free oxide or hydroxide.
  void read_lime() {
    constexpr double calcium_in_carbonate = 0.4005;
    constexpr double magnesium_in_carbonate = 0.2884;
    const double carbonate =
        percent("Ca") / calcium_in_carbonate + percent("Mg") / magnesium_in_carbonate;
    constexpr double all = 104;
    if (carbonate <= all || is_of_formula()) return;
    add(HazardClass::alkaline,
        "it states more calcium and magnesium than carbonates can hold: they are oxide or "
        "hydroxide",
        stoichiometry);
  }

  void read_nitrogen() {
    const double nitrogen = percent("N");
    if (nitrogen <= 0) return;
    const double nitrate = percent("N-nitrate");
    const double ammonium = percent("N-ammonium");
    const double urea = percent("N-urea");
    if (nitrate > 0) {
      add(HazardClass::oxidizer, "it states " + with_percent(nitrate) + " of N-nitrate",
          nitrate_source);
    }
    constexpr double least_ammonium_percent = 2;
    if (ammonium >= least_ammonium_percent) {
      add(HazardClass::ammonium, "it states " + with_percent(ammonium) + " of N-ammonium",
          "chemistry of the substance (from memory)");
    }
    constexpr double least_urea_percent = 1;
    if (urea >= least_urea_percent) {
      add(HazardClass::urea, "it states " + with_percent(urea) + " of N-urea",
          "chemistry of the substance (from memory)");
    }
    if (is_of_formula()) return;
    if (nitrate + ammonium + urea > 0) {
      if (nitrate == 0) read_missing_forms(nitrogen, nitrogen - ammonium - urea);
    } else if (find_family(material_.family) == nullptr && says_urea(nitrogen)) {
      add_only_urea(nitrogen);
    } else {
      read_without_forms(nitrogen);
    }
  }

  [[nodiscard]] static bool says_urea(double nitrogen) {
    return nitrogen > least_urea_nitrogen_percent;
  }

  void add_only_urea(double nitrogen) {
    add(HazardClass::urea,
        "it states " + with_percent(nitrogen) + " of N, which only urea and its kin hold",
        stoichiometry);
  }

  void add_doubt(HazardClass kind, std::string reason) {
    add(kind, std::move(reason), "doubt counts as danger, common practice");
    nature_.hazards.back().doubt = true;
  }

  /// Forms that do not add up: what is missing can be nitrate. Slow nitrogen is no nitrate.
  void read_missing_forms(double nitrogen, double missing) {
    missing -= std::max(0.0, percent("N-slow") - percent("N-urea"));
    if (missing <= open_forms || missing <= 0.03 * nitrogen || is_explained()) return;
    add(HazardClass::oxidizer,
        "its forms of nitrogen leave " + with_percent(missing) +
            " of N open, which can only be nitrate; state all forms",
        "forms of nitrogen on labels, common practice");
  }

  void read_without_forms(double nitrogen) {
    if (is_explained()) return;
    if (says_urea(nitrogen)) {
      add_only_urea(nitrogen);
      return;
    }
    // What sulfate, chloride and phosphate can hold as ammonium.
    const double bound = 0.88 * percent("S") + 0.40 * percent("Cl") + 0.40 * percent("P2O5");
    const double open = nitrogen - bound;
    if (bound > 0 && open < 0.1 * nitrogen) {
      add(HazardClass::ammonium, "its nitrogen is what its sulfate, chloride or phosphate binds",
          stoichiometry);
      return;
    }
    constexpr double least_salt_nitrogen = 8;
    constexpr double most_salt_phosphate = 5;
    const bool salt =
        open >= least_salt_nitrogen && percent("P2O5") <= most_salt_phosphate && percent("S") < 2 &&
        (percent("K2O") >= 30 || percent("Ca") >= 12 || percent("Na") >= 18 || percent("Mg") >= 6);
    if (nitrogen < least_nitrate_nitrogen_percent && !salt) return;
    if (open < least_salt_nitrogen) return;
    const std::string states = "it states " + with_percent(nitrogen) + " of N without its forms";
    add_doubt(HazardClass::oxidizer,
              states +
                  ", which can be ammonium nitrate or another nitrate; state N-urea, N-ammonium "
                  "and N-nitrate");
    if (salt) return;
    add_doubt(HazardClass::urea, states + ", which can be urea; state them");
    add_doubt(HazardClass::ammonium, states);
  }

  /// Whether other evidence says already what the nitrogen is: a family of the table that holds
  /// so much of it, or organic matter, which holds little.
  [[nodiscard]] bool is_explained() const {
    constexpr double most_organic_nitrogen = 17;
    constexpr double some_carbonate_calcium = 3;  // lime in ammonium nitrate, not in sulfate
    const double nitrogen = percent("N");
    if (nature_.has(HazardClass::fuel) && nitrogen <= most_organic_nitrogen) return true;
    return std::any_of(nature_.families.begin(), nature_.families.end(), [&](const std::string& f) {
      if (family_has(f, HazardClass::oxidizer)) return true;
      if (f == "ammonium-sulfate" && percent("S") == 0 && percent("Ca") > some_carbonate_calcium) {
        return false;
      }
      const auto* const known = std::ranges::find(explained_families, f, &ExplainedFamily::family);
      return known != explained_families.end() && nitrogen >= known->least_nitrogen_percent &&
             nitrogen <= find_family(f)->most_nitrogen_percent;
    });
  }

  [[nodiscard]] bool is_of_formula() const { return !material_.formula.empty(); }

  const Material& material_;
  Nature& nature_;
};

}  // namespace

void add_content_hazards(const Material& material, Nature& nature) {
  ContentReading(material, nature).read();
}

}  // namespace leastwise
