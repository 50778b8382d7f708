#include "exact/exact_contents.hpp"

#include <leastwise/catalogue.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <map>

#include "base/embedded.hpp"
#include "chemistry/materials/published_figures.hpp"
#include "chemistry/nutrients/composition.hpp"
#include "chemistry/nutrients/data_table.hpp"
#include "chemistry/nutrients/formula_parts.hpp"
#include "exact/decimal.hpp"

namespace leastwise::exact {
namespace {

/// Moles of each element and nitrogen form in one mole, by name, and the mass of that mole.
struct Moles {
  std::map<std::string, Rational, std::less<>> of{};
  Rational mass{};
};

Rational weight_of(std::string_view symbol) { return decimal(*atomic_weight(symbol)); }

Moles moles_of(std::string_view formula) {
  Moles moles;
  for (const FormulaPart& part : parse_formula(formula)) {
    const Rational times = decimal(part.multiplier);
    const Composition units = composition_of_units(part);
    for (const auto& [symbol, count] : units.atoms) {
      moles.of[symbol] += times * decimal(count);
      moles.mass += times * decimal(count) * weight_of(symbol);
    }
    moles.of["N-urea"] += times * decimal(units.urea_nitrogen);
    moles.of["N-ammonium"] += times * decimal(units.ammonium_nitrogen);
    moles.of["N-nitrate"] += times * decimal(units.nitrate_nitrogen);
  }
  return moles;
}

using ShareByName = std::map<std::string, Rational, std::less<>>;

ShareByName element_shares() {
  ShareByName shares;
  for (const std::string_view name : known_names()) {
    const auto element = element_of(name);
    if (!element) continue;
    const Moles moles = moles_of(name);
    shares.emplace(name, moles.of.find(*element)->second * weight_of(*element) / moles.mass);
  }
  return shares;
}

/// Mass of element in one mass of `name`, an element or an oxide.
const Rational& element_share(std::string_view name) {
  static const ShareByName shares = element_shares();
  return shares.find(name)->second;
}

std::vector<Content> stated(const std::vector<leastwise::Content>& contents) {
  std::vector<Content> exact;
  for (const auto& content : contents) exact.push_back({content.name, decimal(content.percent)});
  return exact;
}

std::vector<Content> built_in_contents(const Material& material) {
  static const Table table("materials.csv", embedded::materials_csv());
  for (std::size_t row = 0; row < table.size(); ++row) {
    if (table.text(row, "name") != material.name || table.text(row, "formula").empty()) continue;
    return contents_of_formula(table.text(row, "formula"),
                               decimal(table.number(row, "purity_percent")));
  }
  return stated(material.contains_percent);
}

}  // namespace

std::vector<Content> contents_of_formula(std::string_view formula, const Rational& purity_percent) {
  const Moles moles = moles_of(formula);
  std::vector<Content> contents;
  for (const std::string_view name : known_names()) {
    const auto found = moles.of.find(name);
    if (found == moles.of.end() || found->second == 0) continue;
    const std::string_view element = parent_of_form(name).value_or(name);
    contents.push_back(
        {std::string(name), found->second * weight_of(element) / moles.mass * purity_percent});
  }
  return contents;
}

Rational conversion(std::string_view from, std::string_view to) {
  if (from == to) return 1;
  const auto element = element_of(from);
  if (!element || element != element_of(to)) return 0;
  return element_share(from) / element_share(to);
}

namespace {

/// What the lot holds in place of, or beside, the contents of the catalogue or the formula; forms
/// that it does not state keep their share of a nutrient that it replaces.
void take_lot(const std::vector<leastwise::Content>& lot,
              const std::vector<leastwise::Content>& all, std::vector<Content>& contents) {
  for (const auto& stated : lot) {
    const Rational now = decimal(stated.percent);
    const auto known = std::ranges::find_if(contents, [&](const Content& content) {
      return content.name == stated.name || conversion(content.name, stated.name) != 0;
    });
    if (known == contents.end()) {
      contents.push_back({stated.name, now});
      continue;
    }
    const Rational before = known->percent * conversion(known->name, stated.name);
    *known = {stated.name, now};
    if (before == 0) continue;
    for (Content& form : contents) {
      const auto parent = parent_of_form(form.name);
      const bool in_lot = std::ranges::find(all, form.name, &leastwise::Content::name) != all.end();
      if (parent && !in_lot && conversion(*parent, stated.name) != 0)
        form.percent = form.percent * now / before;
    }
  }
}

std::vector<Content> catalogue_contents(const Material& material, const MaterialDraft* draft) {
  if (draft != nullptr && draft->formula)
    return contents_of_formula(*draft->formula, decimal(draft->purity_percent.value_or(100)));
  if (const auto* built_in = find_built_in_material(material.name))
    return built_in_contents(*built_in);
  return built_in_contents(material);
}

/// What the lot, the formula or the catalogue says.
std::vector<Content> stated_contents(const Scenario& scenario, const Material& material) {
  const auto& drafts = scenario.draft().materials;
  const auto draft = std::ranges::find(drafts, material.name, &MaterialDraft::name);
  if (draft == drafts.end()) return catalogue_contents(material, nullptr);
  if (draft->contains_percent) return stated(*draft->contains_percent);
  std::vector<Content> contents = catalogue_contents(material, &*draft);
  std::vector<leastwise::Content> all =
      draft->analysis_percent.value_or(std::vector<leastwise::Content>{});
  if (draft->contains_also_percent)
    all.insert(all.end(), draft->contains_also_percent->begin(),
               draft->contains_also_percent->end());
  take_lot(all, all, contents);
  return contents;
}

}  // namespace

std::vector<Content> contents_of(const Scenario& scenario, std::size_t i) {
  const Material& material = scenario.materials()[i];
  std::vector<Content> contents = stated_contents(scenario, material);
  // Published figures that the scenario took over because a rule limits them.
  for (const leastwise::Content& content : material.contains_percent)
    if (is_published_figure(content.name) &&
        std::ranges::find(contents, content.name, &Content::name) == contents.end())
      contents.push_back({content.name, decimal(content.percent)});
  return contents;
}

namespace {

Rational single_percent(const std::vector<Content>& contents, std::string_view name) {
  const auto own = std::ranges::find(contents, name, &Content::name);
  if (own != contents.end()) return own->percent;
  for (const auto& content : contents) {
    const Rational factor = conversion(content.name, name);
    if (factor != 0) return content.percent * factor;
  }
  return 0;
}

}  // namespace

Rational percent_of(const std::vector<Content>& contents, std::string_view name) {
  Rational sum = 0;
  for (const std::string_view part : parts_of_sum(name)) sum += single_percent(contents, part);
  return sum;
}

}  // namespace leastwise::exact
