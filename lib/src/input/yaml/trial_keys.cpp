#include "input/yaml/trial_keys.hpp"
#include "input/yaml/key_locations.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/number.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

void take_version(NodeReader&, const Node&, const std::string&, TrialText&) {}  // read beforehand

void take_title(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  trial.draft.title = reader.text(value, path).value_or("");
}

void take_code(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  trial.draft.code = reader.text(value, path).value_or("");
}

void take_currency(NodeReader& reader, const Node& value, const std::string& path,
                   TrialText& trial) {
  trial.draft.currency = reader.text(value, path).value_or("");
}

void take_seed(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  const auto seed = reader.whole_number(value, path);
  if (seed && *seed < 0) {
    reader.error(codes::out_of_range, path, value.spot,
                 "the seed must be 0 or more, found " + in_quotes(value.text));
    return;
  }
  if (seed) trial.draft.seed = static_cast<std::uint64_t>(*seed);
}

void take_day(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  trial.draft.mixed_on = reader.text(value, path).value_or("");
}

void take_base(NodeReader&, const Node& value, const std::string&, TrialText& trial) {
  trial.base = &value;
}

void take_whole_plot_factor(NodeReader&, const Node& value, const std::string&, TrialText& trial) {
  trial.whole_plot_factor = &value;
}

void take_spare(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  if (const auto spare = reader.number(value, path)) trial.draft.spare_percent = *spare;
}

void take_density(NodeReader& reader, const Node& value, const std::string& path,
                  TrialText& trial) {
  trial.draft.binder_density_kg_per_l = reader.number(value, path);
}

void take_sites(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  read_sites(reader, value, path, trial.draft);
}

void take_labels(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  read_labels(reader, value, path, trial.draft);
}

void take_equipment(NodeReader& reader, const Node& value, const std::string& path,
                    TrialText& trial) {
  read_equipment(reader, value, path, trial.draft);
}

void take_bags(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  read_bags(reader, value, path, trial.draft);
}

void take_hold(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  read_hold(reader, value, path, trial.draft);
}

void take_stock(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  read_stock(reader, value, path, trial.draft);
}

void take_sample(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  if (const auto sample = reader.number(value, path)) trial.draft.sample_g = *sample;
}

void take_carrier(NodeReader& reader, const Node& value, const std::string& path,
                  TrialText& trial) {
  trial.draft.carrier = reader.text(value, path).value_or("");
}

void take_applications(NodeReader& reader, const Node& value, const std::string& path,
                       TrialText& trial) {
  read_applications(reader, value, path, trial.draft);
}

void take_splits(NodeReader& reader, const Node& value, const std::string& path, TrialText& trial) {
  trial.draft.split_percent = read_splits(reader, value, path);
}

void take_solutions(NodeReader& reader, const Node& value, const std::string& path,
                    TrialText& trial) {
  read_solutions(reader, value, path, trial.draft);
}

constexpr std::array<Key<TrialText>, 23> trial_keys{{
    {"leastwise", take_version},
    {"trial", take_title},
    {"code", take_code},
    {"currency", take_currency},
    {"seed", take_seed},
    {"mixed_on", take_day},
    {"base", take_base},
    {"treatments", read_treatments},
    {"factorial", read_factorial},
    {"whole_plot_factor", take_whole_plot_factor},
    {"sites", take_sites},
    {"spare_percent", take_spare},
    {"labels", take_labels},
    {"equipment", take_equipment},
    {"bags_kg", take_bags},
    {"binder_density_kg_per_l", take_density},
    {"hold", take_hold},
    {"stock_kg", take_stock},
    {"sample_g", take_sample},
    {"carrier", take_carrier},
    {"solutions", take_solutions},
    {"applications", take_applications},
    {"split_percent", take_splits},
}};

}  // namespace

void read_trial(NodeReader& reader, const Node& root, TrialText& trial) {
  if (!reader.is_mapping(root, {}, "leastwise: 1")) return;
  if (!check_version(reader, root, true)) {
    reader.mark_unreadable({});
    return;
  }
  read_keys<TrialText>(reader, root, {}, "leastwise: 1", trial_keys, where_it_belongs_in_a_trial,
                       trial);
  find_whole_plots(reader, trial);
}

}  // namespace leastwise
