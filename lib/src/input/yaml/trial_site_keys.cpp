#include <array>
#include <utility>

#include "base/codes.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/trial_keys.hpp"

namespace leastwise {
namespace {

/// In the order of `Corner`.
constexpr std::array<std::string_view, 4> corners{"bottom-left", "bottom-right", "top-left",
                                                  "top-right"};

/// In the order of `Design`.
constexpr std::array<std::string_view, 4> designs{"complete-blocks", "latin-square", "split-plot",
                                                  "incomplete-blocks"};

constexpr std::array<Key<FieldLayout>, 14> field_keys{{
    {"columns", [](NodeReader& reader, const Node& value, const std::string& path,
                   FieldLayout& field) { field.columns = reader.whole_number(value, path); }},
    {"rows", [](NodeReader& reader, const Node& value, const std::string& path,
                FieldLayout& field) { field.rows = reader.whole_number(value, path); }},
    {"block_columns",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.block_columns = reader.whole_number(value, path);
     }},
    {"serpentine",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.serpentine = reader.boolean(value, path).value_or(false);
     }},
    {"first_plot",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       if (const auto corner = reader.choice(value, path, corners)) {
         field.first_plot = static_cast<Corner>(*corner);
       }
     }},
    {"north_degrees",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.north_degrees = reader.number(value, path).value_or(0);
     }},
    {"guard_plots",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.guard_plots = reader.whole_number(value, path).value_or(0);
     }},
    {"guard_treatment",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.guard_treatment = reader.text(value, path).value_or("");
     }},
    {"between_rows_m",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.between_rows_m = reader.number(value, path).value_or(0);
     }},
    {"between_columns_m",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.between_columns_m = reader.number(value, path).value_or(0);
     }},
    {"headland_m",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.headland_m = reader.number(value, path).value_or(0);
     }},
    {"headland_treatment",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.headland_treatment = reader.text(value, path).value_or("");
     }},
    {"border_treatment",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.border_treatment = reader.text(value, path).value_or("");
     }},
    {"border_m",
     [](NodeReader& reader, const Node& value, const std::string& path, FieldLayout& field) {
       field.border_m = reader.number(value, path).value_or(0);
     }},
}};

void take_field(NodeReader& reader, const Node& value, const std::string& path, SiteDraft& site) {
  read_keys<FieldLayout>(reader, value, path, "{columns: 6, serpentine: true}", field_keys,
                         where_it_belongs_in_a_trial, site.field);
}

void take_areas(NodeReader& reader, const Node& value, const std::string& path, SiteDraft& site) {
  const auto* areas = reader.list(value, path, "[30, 28.5, 30]");
  if (areas == nullptr) return;
  for (std::size_t i = 0; i < areas->size(); ++i) {
    const auto area = reader.number((*areas)[i], path_below(path, std::to_string(i)));
    if (area) site.plot_areas_m2.push_back(*area);
  }
  if (areas->empty()) {
    reader.error(codes::missing_key, path, value.spot,
                 "plot_areas_m2 must have an area for each replicate or for each plot, found none");
  }
}

constexpr std::array<Key<SiteDraft>, 12> site_keys{{
    {"code", [](NodeReader& reader, const Node& value, const std::string& path,
                SiteDraft& site) { site.code = reader.text(value, path).value_or(""); }},
    {"replicates",
     [](NodeReader& reader, const Node& value, const std::string& path, SiteDraft& site) {
       site.replicates = reader.whole_number(value, path).value_or(1);
     }},
    {"plots_per_treatment",
     [](NodeReader& reader, const Node& value, const std::string& path, SiteDraft& site) {
       site.plots_per_treatment = reader.whole_number(value, path).value_or(1);
     }},
    {"plot_length_m", [](NodeReader& reader, const Node& value, const std::string& path,
                         SiteDraft& site) { site.plot_length_m = reader.number(value, path); }},
    {"plot_width_m", [](NodeReader& reader, const Node& value, const std::string& path,
                        SiteDraft& site) { site.plot_width_m = reader.number(value, path); }},
    {"plot_area_m2", [](NodeReader& reader, const Node& value, const std::string& path,
                        SiteDraft& site) { site.plot_area_m2 = reader.number(value, path); }},
    {"plot_areas_m2", take_areas},
    {"plot_rows", [](NodeReader& reader, const Node& value, const std::string& path,
                     SiteDraft& site) { site.plot_rows = reader.whole_number(value, path); }},
    {"row_spacing_m", [](NodeReader& reader, const Node& value, const std::string& path,
                         SiteDraft& site) { site.row_spacing_m = reader.number(value, path); }},
    {"design",
     [](NodeReader& reader, const Node& value, const std::string& path, SiteDraft& site) {
       if (const auto design = reader.choice(value, path, designs)) {
         site.design = static_cast<Design>(*design);
       }
     }},
    {"block_size", [](NodeReader& reader, const Node& value, const std::string& path,
                      SiteDraft& site) { site.block_size = reader.whole_number(value, path); }},
    {"field", take_field},
}};

double length(NodeReader& reader, const Node& value, const std::string& path, double otherwise) {
  return reader.number(value, path).value_or(otherwise);
}

constexpr std::array<Key<LabelLayout>, 6> label_keys{{
    {"width_mm",
     [](NodeReader& reader, const Node& value, const std::string& path, LabelLayout& labels) {
       labels.width_mm = length(reader, value, path, labels.width_mm);
     }},
    {"height_mm",
     [](NodeReader& reader, const Node& value, const std::string& path, LabelLayout& labels) {
       labels.height_mm = length(reader, value, path, labels.height_mm);
     }},
    {"stake_width_mm",
     [](NodeReader& reader, const Node& value, const std::string& path, LabelLayout& labels) {
       labels.stake_width_mm = length(reader, value, path, labels.stake_width_mm);
     }},
    {"stake_height_mm",
     [](NodeReader& reader, const Node& value, const std::string& path, LabelLayout& labels) {
       labels.stake_height_mm = length(reader, value, path, labels.stake_height_mm);
     }},
    {"blinded",
     [](NodeReader& reader, const Node& value, const std::string& path, LabelLayout& labels) {
       labels.blinded = reader.boolean(value, path).value_or(false);
     }},
    {"codes",
     [](NodeReader& reader, const Node& value, const std::string& path, LabelLayout& labels) {
       labels.codes = reader.boolean(value, path).value_or(false);
     }},
}};

}  // namespace

void read_labels(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft) {
  read_keys<LabelLayout>(reader, node, path, "{width_mm: 93, height_mm: 50}", label_keys,
                         where_it_belongs_in_a_trial, draft.labels);
}

void read_sites(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft) {
  constexpr std::string_view example = "north: {replicates: 4, plot_length_m: 10, plot_width_m: 3}";
  reader.names(node, path, example,
               [&](const Node& key, const Node& value, const std::string& place) {
                 SiteDraft site;
                 site.name = key.text;
                 read_keys<SiteDraft>(reader, value, place, "{replicates: 4, plot_area_m2: 30}",
                                      site_keys, where_it_belongs_in_a_trial, site);
                 draft.sites.push_back(std::move(site));
               });
}

}  // namespace leastwise
