#pragma once
#include <leastwise/draft.hpp>

#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// A file that a scenario names, and where it names it.
struct NamedFile {
  std::string name{};
  std::string path{};  ///< dotted path: `catalogue.0`
  SourceSpan spot{};
};

/// What a scenario file says: a draft, and the files that are still to be read.
struct ScenarioText {
  ScenarioDraft& draft;
  std::vector<NamedFile> catalogues{};
  std::optional<NamedFile> prices{};
  std::optional<NamedFile> history{};
};

/// What `units` may be, along `Units`.
inline constexpr std::array<std::string_view, 2> unit_words{"metric", "us"};
/// Tells `reader` which units its text counts in. Says nothing of a wrong word: its key does.
void count_as_stated(NodeReader& reader, const Node& root);

/// Reads the root of a scenario file.
void read_scenario(NodeReader& reader, const Node& root, ScenarioText& scenario);

/// Materials of all catalogue files of a scenario.
struct CatalogueText {
  const std::set<std::string, std::less<>>& replaced;  ///< names the scenario defines itself
  std::vector<MaterialDraft> materials{};
  std::map<std::string, Place, std::less<>> defined{};  ///< where each was defined
  std::vector<std::string> passed_over{};               ///< replaced ones that were met
};

/// Reads the root of a catalogue file; materials of the scenario's own names are passed over.
void read_catalogue(NodeReader& reader, const Node& root, CatalogueText& catalogue);

/// Whether the file may be of the format version that this library reads; complains otherwise.
[[nodiscard]] bool check_version(NodeReader& reader, const Node& root, bool required);

inline constexpr std::string_view materials_example = "urea: {form: granule, price_per_t: 410}";

/// Reads one material. Returns: false when `key` is no name of a material at all.
bool read_material(NodeReader& reader, const Node& key, const Node& node, const std::string& path,
                   MaterialDraft& material);

/// Reads a list of prices by quantity.
[[nodiscard]] std::optional<std::vector<PriceTierDraft>> read_price_tiers(NodeReader& reader,
                                                                          const Node& node,
                                                                          const std::string& path);

/// Reads one of the `ratios`.
void read_ratio(NodeReader& reader, const Node& node, const std::string& path,
                ScenarioDraft& draft);

/// Reads `blend`, `compatibility`.
void read_blend(NodeReader& reader, const Node& node, const std::string& path,
                ScenarioDraft& draft);
void read_compatibility(NodeReader& reader, const Node& node, const std::string& path,
                        ScenarioDraft& draft);

/// Reads one variant.
[[nodiscard]] VariantDraft read_variant(NodeReader& reader, const Node& node,
                                        const std::string& path, std::string name);
/// Reads `variants`: named small changes of the scenario.
void read_variants(NodeReader& reader, const Node& node, const std::string& path,
                   ScenarioDraft& draft);

}  // namespace leastwise
