#include <array>
#include <utility>

#include "base/codes.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/trial_keys.hpp"

namespace leastwise {
namespace {

constexpr std::array<Key<Application>, 2> application_keys{{
    {"on", [](Page& page, const Node& value, const std::string& path,
              Application& application) { application.on = page.text(value, path).value_or(""); }},
    {"stage",
     [](Page& page, const Node& value, const std::string& path, Application& application) {
       application.stage = page.text(value, path).value_or("");
     }},
}};

}  // namespace

void read_applications(Page& page, const Node& node, const std::string& path, TrialDraft& draft) {
  page.names(node, path, "planting: {on: 2026-04-20}",
             [&](const Node& key, const Node& value, const std::string& place) {
               Application application;
               application.name = key.text;
               read_keys<Application>(page, value, place, "{on: 2026-04-20, stage: V6}",
                                      application_keys, where_it_belongs_in_a_trial, application);
               draft.applications.push_back(std::move(application));
             });
}

std::vector<SplitShares> read_splits(Page& page, const Node& node, const std::string& path) {
  std::vector<SplitShares> splits;
  page.names(node, path, "N: {planting: 40, six leaves: 60}",
             [&](const Node& key, const Node& value, const std::string& place) {
               SplitShares split;
               split.of = key.text;
               page.names(value, place, "{planting: 40, six leaves: 60}",
                          [&](const Node& application, const Node& share, const std::string& at) {
                            const auto percent = page.number(share, at);
                            if (percent) split.shares.push_back({application.text, *percent});
                          });
               splits.push_back(std::move(split));
             });
  return splits;
}

}  // namespace leastwise
