#include <array>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

void take_material(NodeReader& reader, const Node& key, const Node& node, const std::string& path,
                   CatalogueText& catalogue) {
  if (catalogue.replaced.find(key.text) != catalogue.replaced.end()) {
    catalogue.passed_over.push_back(key.text);
    return;
  }
  const Place place = reader.place_at(key.spot);
  const auto [first, is_new] = catalogue.defined.emplace(key.text, place);
  if (!is_new) {
    reader.error(
        codes::duplicate_name, path, key.spot,
        "material " + in_quotes(key.text) + " is defined in two catalogues; keep one of them");
    reader.also(first->second, "first defined here");
    return;
  }
  MaterialDraft material;
  material.name = key.text;
  if (read_material(reader, key, node, path, material)) {
    catalogue.materials.push_back(std::move(material));
  }
}

void take_materials(NodeReader& reader, const Node& value, const std::string& path,
                    CatalogueText& catalogue) {
  reader.names(value, path, materials_example,
               [&](const Node& key, const Node& node, const std::string& place) {
                 take_material(reader, key, node, place, catalogue);
               });
}

constexpr std::array<Key<CatalogueText>, 3> catalogue_keys{{
    {"leastwise", [](NodeReader&, const Node&, const std::string&, CatalogueText&) {}},
    {"units", [](NodeReader& reader, const Node& value, const std::string& path,
                 CatalogueText&) { static_cast<void>(reader.choice(value, path, unit_words)); }},
    {"materials", take_materials},
}};

std::string not_in_a_catalogue(std::string_view key) {
  return belongs_at_top(key) ? "in the scenario, not in a catalogue" : where_it_belongs(key);
}

}  // namespace

void read_catalogue(NodeReader& reader, const Node& root, CatalogueText& catalogue) {
  if (!reader.is_mapping(root, {}, "materials: ...") || !check_version(reader, root, false)) return;
  count_as_stated(reader, root);
  read_keys<CatalogueText>(reader, root, {}, "materials: ...", catalogue_keys, not_in_a_catalogue,
                           catalogue);
}

}  // namespace leastwise
