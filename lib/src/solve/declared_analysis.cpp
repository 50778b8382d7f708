#include <leastwise/compatibility.hpp>
#include <leastwise/declare.hpp>
#include <leastwise/nutrient.hpp>
#include <leastwise/tolerance.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <utility>

#include "base/text/wording.hpp"
#include "chemistry/nutrients/declaration_minima.hpp"

namespace leastwise {
namespace {

/// A nutrient as labels list it: element, oxide where it has one, and what it is called.
struct LabelNutrient {
  std::string_view element{};
  std::string_view oxide{};  ///< empty: always stated as the element
  std::string_view name{};
  std::string_view oxide_name{};
};

/// In the order of labels: primary, secondary, then micronutrients by name.
constexpr std::array<LabelNutrient, 17> label_nutrients{{
    {"N", "", "Total nitrogen", ""},
    {"P", "P2O5", "Total phosphorus", "Total phosphate"},
    {"K", "K2O", "Potassium", "Soluble potash"},
    {"Ca", "CaO", "Calcium", "Calcium oxide"},
    {"Mg", "MgO", "Magnesium", "Magnesium oxide"},
    {"Na", "Na2O", "Sodium", "Sodium oxide"},
    {"S", "SO3", "Sulfur", "Sulfur trioxide"},
    {"Si", "SiO2", "Silicon", "Silicon dioxide"},
    {"B", "", "Boron", ""},
    {"Cl", "", "Chlorine", ""},
    {"Co", "", "Cobalt", ""},
    {"Cu", "", "Copper", ""},
    {"Fe", "", "Iron", ""},
    {"Mn", "", "Manganese", ""},
    {"Mo", "", "Molybdenum", ""},
    {"Ni", "", "Nickel", ""},
    {"Zn", "", "Zinc", ""},
}};

struct LabelForm {
  std::string_view form{};
  std::string_view element{};  ///< of the nutrient it is a part of
  std::string_view words{};
};

constexpr std::array<LabelForm, 6> label_forms{{
    {"N-nitrate", "N", "of it as nitrate"},
    {"N-ammonium", "N", "of it as ammonium"},
    {"N-urea", "N", "of it as urea"},
    {"N-slow", "N", "of it slowly available"},
    {"P2O5-citrate", "P", "of it available (citrate and water)"},
    {"P2O5-water", "P", "of it soluble in water"},
}};

bool is_macronutrient(std::string_view element) {
  constexpr std::array<std::string_view, 7> macronutrients{"N", "P", "K", "Ca", "Mg", "Na", "S"};
  return std::ranges::find(macronutrients, element) != macronutrients.end();
}

bool is_primary(std::string_view element) {
  return element == "N" || element == "P" || element == "K";
}

/// Makes the lines of one product.
class Declaration {
 public:
  Declaration(const Scenario& scenario, std::span<const Portion> portions)
      : terms_(scenario.draft().declare.value_or(DeclarationTerms{})) {
    for (const Portion& portion : portions)
      goods_.push_back({&scenario.materials()[scenario.index_of(portion.material).value()],
                        portion.kg_per_t / 1000});
    analysis_.rules = terms_.rules;
  }

  DeclaredAnalysis take() &&;

 private:
  struct Good {
    const Material* material = nullptr;
    double share = 0;  ///< of the product, by mass
  };

  [[nodiscard]] std::string_view stated_name(const LabelNutrient& nutrient) const;
  [[nodiscard]] FactorSource factors() const {
    return terms_.rules == "eu-2019-1009" ? FactorSource::eu_2019_1009
                                          : FactorSource::atomic_weights;
  }
  [[nodiscard]] double content(const Material& material, std::string_view name) const;
  [[nodiscard]] double found(std::string_view name) const;
  [[nodiscard]] double rounded_down(double percent) const;
  [[nodiscard]] bool forms_are_stated(const Material& material, std::string_view element) const;
  [[nodiscard]] bool lacks_form(std::string_view element, std::string_view form) const;
  void count_macronutrients();
  void add(const LabelNutrient& nutrient);
  void add_forms(const LabelNutrient& nutrient, std::string_view stated);
  void add_minimum(DeclaredContent& line) const;
  void add_tolerance(DeclaredContent& line) const;
  void add_sources();
  void check_sum();

  DeclarationTerms terms_;
  std::vector<Good> goods_{};
  DeclaredAnalysis analysis_{};
  LabelKind kind_ = LabelKind::compound;
  int primaries_ = 0;
  double sum_ = 0;  ///< of the macronutrients declared, as stated
};

std::string_view Declaration::stated_name(const LabelNutrient& nutrient) const {
  if (nutrient.oxide.empty()) return nutrient.element;
  if (terms_.stated_as == "oxide") return nutrient.oxide;
  if (terms_.stated_as == "element") return nutrient.element;
  const bool oxide =
      nutrient.element == "P" || nutrient.element == "K" || factors() == FactorSource::eu_2019_1009;
  return oxide ? nutrient.oxide : nutrient.element;
}

/// As the material states it, or converted by the factors that the rules print.
double Declaration::content(const Material& material, std::string_view name) const {
  for (const Content& content : material.contains_percent)
    if (content.name == name) return content.percent;
  for (const Content& content : material.contains_percent) {
    auto factor = conversion_factor(content.name, name, factors());
    if (!factor) factor = conversion_factor(content.name, name);
    if (factor) return content.percent * *factor;
  }
  return 0;
}

double Declaration::found(std::string_view name) const {
  double percent = 0;
  for (const Good& good : goods_) percent += good.share * content(*good.material, name);
  return percent;
}

/// Contents above 1 % in whole steps, smaller ones at two digits. What the arithmetic of a blend
/// leaves of a limit that is just met counts as met.
double Declaration::rounded_down(double percent) const {
  if (!(percent > 0)) return 0;
  constexpr double noise = 1e-6;  // of a step: 11.9999999 is 12
  double step = terms_.step_percent.value_or(0.1);
  if (percent < 1) step = std::pow(10, std::floor(std::log10(percent) + 1e-9) - 1);
  const double steps = std::floor(percent / step + noise);
  const double parts = std::round(1 / step);  // 0.1 is not a binary number, a tenth of 123 is near
  return std::abs(parts * step - 1) < 1e-9 ? steps / parts : steps * step;
}

/// Whether the forms that a material states make up all of the nutrient.
bool Declaration::forms_are_stated(const Material& material, std::string_view element) const {
  const double whole = content(material, element == "P" ? "P2O5" : element);
  if (element == "P") return whole == 0 || content(material, "P2O5-citrate") > 0;
  const double parts = content(material, "N-nitrate") + content(material, "N-ammonium") +
                       content(material, "N-urea");
  return parts >= 0.99 * whole;
}

/// Whether some material holds the nutrient and does not say how much of it is of that form.
bool Declaration::lacks_form(std::string_view element, std::string_view form) const {
  return std::ranges::any_of(goods_, [&](const Good& good) {
    return content(*good.material, element) > 0 && content(*good.material, form) == 0 &&
           !forms_are_stated(*good.material, element);
  });
}

void Declaration::count_macronutrients() {
  int straight = 0;
  for (const LabelNutrient& nutrient : label_nutrients) {
    const double percent = found(stated_name(nutrient));
    if (percent > 0 && is_primary(nutrient.element)) ++primaries_;
    if (!is_macronutrient(nutrient.element)) continue;
    const auto least =
        declaration_minimum(terms_.rules, LabelKind::compound, stated_name(nutrient));
    if (percent >= (least ? least->percent : 0) && percent > 0) ++straight;
  }
  if (straight == 1) kind_ = LabelKind::straight;
}

void Declaration::add_minimum(DeclaredContent& line) const {
  const auto least = declaration_minimum(terms_.rules, kind_, line.nutrient);
  if (!least) return;
  line.minimum_percent = least->percent;
  line.minimum_source = least->source;
  line.below_minimum = line.declared_percent < least->percent * (1 - 1e-9);
}

void Declaration::add_tolerance(DeclaredContent& line) const {
  const auto scheme = label_tolerance(terms_.rules);
  if (!scheme || line.below_minimum || !(line.declared_percent > 0)) return;
  const auto allowed = allowance(*scheme, line.nutrient, line.declared_percent, primaries_);
  if (!allowed) return;
  line.tolerance_below = allowed->below;
  line.tolerance_above = allowed->above;
  line.tolerance_source = allowed->source;
}

void Declaration::add_forms(const LabelNutrient& nutrient, std::string_view stated) {
  for (const LabelForm& form : label_forms) {
    if (form.element != nutrient.element) continue;
    if (form.form == "P2O5-citrate" && terms_.rules == "aafco") continue;  // is the line above
    const double factor =
        form.element == "P" ? conversion_factor("P2O5", stated, factors()).value_or(1) : 1;
    DeclaredContent line;
    line.nutrient = form.form;
    line.words = form.words;
    line.found_percent = found(form.form) * factor;
    line.declared_percent = rounded_down(line.found_percent);
    line.at_least = lacks_form(nutrient.element, form.form);
    if (line.found_percent > 0) analysis_.contents.push_back(std::move(line));
  }
}

void Declaration::add(const LabelNutrient& nutrient) {
  const std::string_view stated = stated_name(nutrient);
  DeclaredContent line;
  line.nutrient = stated;
  line.found_percent = found(stated);
  if (!(line.found_percent > 0)) return;
  const bool oxide = stated == nutrient.oxide && !nutrient.oxide.empty();
  std::string words(oxide ? nutrient.oxide_name : nutrient.name);
  if (nutrient.element == "P" && terms_.rules == "aafco") {  // guarantees what is available
    words = oxide ? "Available phosphate" : "Available phosphorus";
    line.found_percent = found("P2O5-citrate") * conversion_factor("P2O5", stated).value_or(1);
    line.at_least = lacks_form(nutrient.element, "P2O5-citrate");
  }
  line.words = words + " (" + std::string(stated) + ")";
  line.declared_percent = rounded_down(line.found_percent);
  add_minimum(line);
  add_tolerance(line);
  if (is_macronutrient(nutrient.element) && !line.below_minimum) sum_ += line.declared_percent;
  analysis_.contents.push_back(std::move(line));
  add_forms(nutrient, stated);
}

/// What brings a nutrient of the list, by the name of its family, or its own where the family is
/// none of the table.
void Declaration::add_sources() {
  for (const Good& good : goods_) {
    const bool brings = std::ranges::any_of(analysis_.contents, [&](const DeclaredContent& line) {
      return !line.below_minimum && content(*good.material, line.nutrient) > 0;
    });
    if (!brings) continue;
    std::string name =
        find_family(good.material->family) != nullptr ? good.material->family : good.material->name;
    std::ranges::replace(name, '-', ' ');
    if (std::ranges::find(analysis_.derived_from, name) == analysis_.derived_from.end())
      analysis_.derived_from.push_back(std::move(name));
  }
}

void Declaration::check_sum() {
  if (kind_ != LabelKind::compound) return;
  const auto least = declaration_minimum(terms_.rules, kind_, "sum");
  if (!least || sum_ >= least->percent) return;
  analysis_.notes.push_back({NoteLevel::warning,
                             NoteCode::declaration_short,
                             {},
                             "the macronutrients that may be declared add up to " +
                                 rounded_text(sum_) + " %, and " + terms_.rules + " asks for " +
                                 number_text(least->percent) + " % of such a product",
                             least->source});
}

DeclaredAnalysis Declaration::take() && {
  count_macronutrients();
  for (const LabelNutrient& nutrient : label_nutrients) add(nutrient);
  add_sources();
  check_sum();
  return std::move(analysis_);
}

}  // namespace

DeclaredAnalysis declared_analysis(const Scenario& scenario, std::span<const Portion> portions) {
  return Declaration(scenario, portions).take();
}

}  // namespace leastwise
