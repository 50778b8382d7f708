#include <leastwise/diagnostic.hpp>
#include <leastwise/load_stopped.hpp>
#include <leastwise/proof.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <stop_token>

#include "exact/fingerprint.hpp"

namespace leastwise {
namespace {

using Json = nlohmann::ordered_json;

constexpr int proof_version = 1;
constexpr std::size_t deepest_proof = 8;
constexpr std::size_t most_keys = 16;  ///< of one object; a proof has ten at most

Json case_json(const ProofCase& one) {
  Json decisions = Json::array();
  for (const auto& decision : one.decisions)
    decisions.push_back({{"choice", decision.choice}, {"of", decision.of}});
  Json multipliers = Json::array();
  for (const auto& multiplier : one.multipliers)
    multipliers.push_back({{"rule", multiplier.rule}, {"value", multiplier.value}});
  return {{"decisions", std::move(decisions)},
          {"multipliers", std::move(multipliers)},
          {"settled_by", one.settled_by},
          {"bound", one.bound}};
}

/// The proof without its seal.
Json unsealed_json(const Proof& proof) {
  Json portions = Json::array();
  for (const auto& portion : proof.portions)
    portions.push_back({{"material", portion.material}, {"kg", portion.kg}});
  Json cases = Json::array();
  for (const auto& one : proof.cases) cases.push_back(case_json(one));
  return {{"leastwise-proof", proof_version},
          {"claim", proof.claim},
          {"scenario", proof.scenario},
          {"title", proof.title},
          {"currency", proof.currency},
          {"basis", proof.basis},
          {"cost", proof.cost},
          {"portions", std::move(portions)},
          {"cases", std::move(cases)}};
}

std::string seal_of(const Json& json) {
  return exact::digest(json.dump(-1, ' ', false, Json::error_handler_t::replace));
}

/// Lines of their own for what a person looks up; cases and portions on one line each.
std::string laid_out(const Json& json) {
  std::string text = "{";
  for (const auto& [key, value] : json.items()) {
    text += text.size() == 1 ? "\n  " : ",\n  ";
    text += Json(key).dump() + ": ";
    if (!value.is_array()) {
      text += value.dump(-1, ' ', false, Json::error_handler_t::replace);
      continue;
    }
    text += '[';
    for (std::size_t k = 0; k < value.size(); ++k)
      text += (k == 0 ? "\n    " : ",\n    ") +
              value[k].dump(-1, ' ', false, Json::error_handler_t::replace);
    text += value.empty() ? "]" : "\n  ]";
  }
  return text + "\n}\n";
}

[[noreturn]] void refuse(std::string_view name, std::string message) {
  Diagnostic diagnostic;
  diagnostic.code = "bad-proof";
  diagnostic.message = std::move(message);
  diagnostic.place.source = name;
  diagnostic.path = name;
  throw InputError({std::move(diagnostic)});
}

/// Looks a text through before it becomes a tree, in time that grows with its length alone: no
/// object may be large, so looking a key up among its neighbours costs nothing.
class ProofWatch : public nlohmann::json_sax<Json> {
 public:
  ProofWatch(std::string_view name, std::stop_token stop) : name_(name), stop_(std::move(stop)) {}

  bool null() override { return go_on(); }
  bool boolean(bool) override { return go_on(); }
  bool number_integer(number_integer_t) override { return go_on(); }
  bool number_unsigned(number_unsigned_t) override { return go_on(); }
  bool number_float(number_float_t, const string_t&) override { return go_on(); }
  bool string(string_t&) override { return go_on(); }
  bool binary(binary_t&) override { return go_on(); }
  bool start_object(std::size_t) override { return enter(); }
  bool end_object() override { return leave(); }
  bool start_array(std::size_t) override { return enter(); }
  bool end_array() override { return leave(); }
  bool key(string_t& name) override {
    auto& keys = keys_.back();
    if (std::ranges::find(keys, name) != keys.end())
      refuse(name_, "the key '" + name + "' stands twice in one place");
    if (keys.size() == most_keys) refuse(name_, "an object has more keys than any of a proof");
    keys.push_back(name);
    return go_on();
  }
  bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) override {
    refuse(name_, "the proof is not JSON");
  }

 private:
  bool enter() {
    if (keys_.size() > deepest_proof) refuse(name_, "the proof is nested too deep");
    keys_.emplace_back();
    return go_on();
  }
  bool leave() {
    keys_.pop_back();
    return go_on();
  }
  [[nodiscard]] bool go_on() const {
    if (stop_.stop_requested()) throw LoadStopped();
    return true;
  }

  std::string_view name_;
  std::stop_token stop_;
  std::vector<std::vector<std::string>> keys_{};
};

/// Takes a proof apart; every key must be there, once, and no other.
class ProofReader {
 public:
  ProofReader(std::string_view name, std::stop_token stop) : name_(name), stop_(std::move(stop)) {}

  Proof read(std::string_view text) {
    const Json json = parse(text);
    expect_object(json, "a proof",
                  {"leastwise-proof", "claim", "scenario", "title", "currency", "basis", "cost",
                   "portions", "cases", "seal"});
    if (json["leastwise-proof"] != proof_version || !json["leastwise-proof"].is_number_integer())
      refuse(name_, "this is no proof of format version 1");
    Proof proof;
    proof.claim = text_of(json, "claim");
    proof.scenario = text_of(json, "scenario");
    proof.title = text_of(json, "title");
    proof.currency = text_of(json, "currency");
    proof.basis = text_of(json, "basis");
    proof.cost = text_of(json, "cost");
    for (const auto& item : list_of(json, "portions")) {
      expect_object(item, "a portion", {"material", "kg"});
      proof.portions.push_back({text_of(item, "material"), text_of(item, "kg")});
    }
    for (const auto& item : list_of(json, "cases")) proof.cases.push_back(read_case(item));
    if (text_of(json, "seal") != seal_of(unsealed_json(proof)))
      refuse(name_, "the proof was changed after it was written: its seal does not match");
    return proof;
  }

 private:
  [[nodiscard]] Json parse(std::string_view text) const {
    ProofWatch watch(name_, stop_);
    Json::sax_parse(text, &watch);
    return Json::parse(text);
  }

  [[nodiscard]] ProofCase read_case(const Json& json) const {
    expect_object(json, "a case", {"decisions", "multipliers", "settled_by", "bound"});
    ProofCase one;
    for (const auto& item : list_of(json, "decisions")) {
      expect_object(item, "a decision", {"choice", "of"});
      one.decisions.push_back({text_of(item, "choice"), text_of(item, "of")});
    }
    for (const auto& item : list_of(json, "multipliers")) {
      expect_object(item, "a multiplier", {"rule", "value"});
      one.multipliers.push_back({text_of(item, "rule"), text_of(item, "value")});
    }
    one.settled_by = text_of(json, "settled_by");
    one.bound = text_of(json, "bound");
    return one;
  }

  void expect_object(const Json& json, std::string_view what,
                     std::initializer_list<const char*> keys) const {
    if (stop_.stop_requested()) throw LoadStopped();
    if (!json.is_object()) refuse(name_, std::string(what) + " must be a JSON object");
    for (const char* key : keys)
      if (!json.contains(key))
        refuse(name_, std::string(what) + " lacks the key '" + std::string(key) + "'");
    for (const auto& [key, value] : json.items())
      if (std::find(keys.begin(), keys.end(), key) == keys.end())
        refuse(name_, std::string(what) + " has the unknown key '" + key + "'");
  }
  [[nodiscard]] std::string text_of(const Json& json, const std::string& key) const {
    const auto& value = json[key];
    if (!value.is_string()) refuse(name_, "'" + key + "' must be a text");
    return value.get<std::string>();
  }
  [[nodiscard]] const Json& list_of(const Json& json, const std::string& key) const {
    const auto& value = json[key];
    if (!value.is_array()) refuse(name_, "'" + key + "' must be a list");
    return value;
  }

  std::string_view name_;
  std::stop_token stop_;
};

}  // namespace

std::string to_json(const Proof& proof) {
  Json json = unsealed_json(proof);
  json["seal"] = seal_of(json);
  return laid_out(json);
}

Proof parse_proof(std::string_view json, std::string_view name, std::stop_token stop) {
  return ProofReader(name, std::move(stop)).read(json);
}

std::string_view to_string(ProofVerdict verdict) {
  switch (verdict) {
    case ProofVerdict::proved_optimal:
      return "proved optimal";
    case ProofVerdict::proved_within_1e_9:
      return "proved within 1e-9";
    case ProofVerdict::proved_infeasible:
      return "proved infeasible";
    case ProofVerdict::stopped:
      return "stopped";
    case ProofVerdict::not_proved:
      break;
  }
  return "not proved";
}

}  // namespace leastwise
