#include "report/answers.hpp"
#include "report/declared_json.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/json_values.hpp"

namespace leastwise::report {
namespace {

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json quote_line(const QuoteLine& line) {
  return {{"kind", to_string(line.kind)},
          {"name", text_or_null(line.name)},
          {"supplier", text_or_null(line.supplier)},
          {"kg_per_t", json_number(line.kg_per_t)},
          {"price_per_t", json_number(line.price_per_t)},
          {"freight_per_t", json_number(line.freight_per_t)},
          {"delivered_per_t", json_number(line.delivered_per_t)},
          {"amount_per_t", json_number(line.amount_per_t)},
          {"kg", json_number(line.kg)},
          {"amount", json_number(line.amount)}};
}

Json quote_sums(const QuoteSums& sums) {
  return {{"materials", json_number(sums.materials)},
          {"cost", json_number(sums.cost)},
          {"at_plant", json_number(sums.at_plant)},
          {"delivered", json_number(sums.delivered)}};
}

Json quote_terms(const QuoteTerms& terms) {
  Json json = {{"number", text_or_null(terms.number)},
               {"customer", text_or_null(terms.customer)},
               {"date", text_or_null(terms.date)},
               {"valid_until", text_or_null(terms.valid_until)},
               {"overhead_per_t", json_number(terms.overhead_per_t)},
               {"margin_percent", json_number(terms.margin_percent)},
               {"markup_percent", json_number(terms.markup_percent)},
               {"margin_per_t", json_number(terms.margin_per_t)},
               {"outbound_freight_per_t", json_number(terms.outbound_freight_per_t)}};
  json["bags"] = nullptr;
  if (terms.bags)
    json["bags"] = {{"kg", json_number(terms.bags->kg)},
                    {"price_each", json_number(terms.bags->price_each)}};
  return json;
}

/// `json` with its keys in the units of the quote: `lb_per_short_ton` for `kg_per_t`.
Json keys_in(Json json, Units units) {
  if (units == Units::metric) return json;
  if (json.is_array())
    for (Json& item : json) item = keys_in(std::move(item), units);
  if (!json.is_object()) return json;
  Json renamed = Json::object();
  for (auto& [key, value] : json.items()) renamed[csv_header(key, units)] = keys_in(value, units);
  return renamed;
}

Json quote_limit(const QuoteLimit& asked) {
  return json_rule(to_string(asked.id), asked.id,
                   {{"limit", json_number(asked.limit)}, {"unit", to_string(asked.unit)}});
}

}  // namespace

std::string json_of(const Quote& quote, std::string_view source) {
  Json json = json_head("quote", {.status = Status::optimal}, quote.blend.title,
                        quote.blend.currency, quote.blend.basis);
  json["terms"] = quote_terms(quote.terms);
  json["scenario"] = source.empty() ? Json(nullptr) : Json(source);
  json["price_list"] = text_or_null(quote.price_list);
  json["prices_on"] = text_or_null(quote.prices_on);
  json["plant"] = text_or_null(quote.plant);
  json["asked"] = json_array(quote.asked, quote_limit);
  json["lines"] = json_array(quote.lines, quote_line);
  json["per_t"] = quote_sums(quote.per_t);
  json["tonnes"] = json_number(quote.tonnes);
  json["hectares"] = json_number(quote.hectares);
  json["bags"] = quote.bags ? Json(*quote.bags) : Json(nullptr);
  json["order"] = quote.order ? quote_sums(*quote.order) : Json(nullptr);
  json["delivered_per_ha"] = json_number(quote.delivered_per_ha);
  json = keys_in(std::move(json), quote.units);
  if (quote.units != Units::metric) json["units"] = to_string(quote.units);
  json["declared"] = json_declared(quote.declared);
  json["blend"] = json_blend(quote.blend);
  json["notes"] = json_array(quote.blend.notes, json_note);
  return json_text(json);
}

}  // namespace leastwise::report
