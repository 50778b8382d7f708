#include <array>
#include <utility>

#include "base/codes.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/trial_keys.hpp"

namespace leastwise {
namespace {

constexpr std::array<Key<Application>, 2> application_keys{{
    {"on",
     [](NodeReader& reader, const Node& value, const std::string& path, Application& application) {
       application.on = reader.text(value, path).value_or("");
     }},
    {"stage",
     [](NodeReader& reader, const Node& value, const std::string& path, Application& application) {
       application.stage = reader.text(value, path).value_or("");
     }},
}};

}  // namespace

void read_applications(NodeReader& reader, const Node& node, const std::string& path,
                       TrialDraft& draft) {
  reader.names(node, path, "planting: {on: 2026-04-20}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 Application application;
                 application.name = key.text;
                 read_keys<Application>(reader, value, place, "{on: 2026-04-20, stage: V6}",
                                        application_keys, where_it_belongs_in_a_trial, application);
                 draft.applications.push_back(std::move(application));
               });
}

std::vector<SplitShares> read_splits(NodeReader& reader, const Node& node,
                                     const std::string& path) {
  std::vector<SplitShares> splits;
  reader.names(node, path, "N: {planting: 40, six leaves: 60}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 SplitShares split;
                 split.of = key.text;
                 reader.names(
                     value, place, "{planting: 40, six leaves: 60}",
                     [&](const Node& application, const Node& share, const std::string& at) {
                       const auto percent = reader.number(share, at);
                       if (percent) split.shares.push_back({application.text, *percent});
                     });
                 splits.push_back(std::move(split));
               });
  return splits;
}

}  // namespace leastwise
