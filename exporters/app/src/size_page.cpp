#include "size_page.hpp"

#include "base/messages.hpp"
#include "spec/vocabulary.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kTold = 5;  ///< findings of a value that fails

std::string which(const SizeOrder& order) { return order.range.largest ? "largest" : "smallest"; }

double now_bare(const SizeOrder& order) {
  return as_bare_number(order.now.value, order.now.dimension);
}

std::string headline(const Command& command, const SizeOrder& order, const SizeFound& found) {
  const std::string range =
      order.words(order.range.from) + " to " + order.words(order.range.to);
  if (!found.value) return command.value + ": no value from " + range + " was found to pass\n";
  return command.value + ": " + order.words(*found.value) + " is the " + which(order) +
         " that passes, of " + range + " (in the files it is " + order.words(now_bare(order)) +
         ")\n";
}

std::string failing_words(const SizeOrder& order, const SizeFound& found) {
  std::string page;
  for (std::size_t i = 0; i < found.failing.size() && i < kTold; ++i)
    page += "    " + message_text(found.failing[i], order.show) + " [" + found.failing[i].code + "]\n";
  if (found.failing.size() > kTold)
    page += "    and " + std::to_string(found.failing.size() - kTold) + " more\n";
  return page;
}

std::string both_sides(const SizeOrder& order, const SizeFound& found) {
  if (!found.value) {
    const Tick first = order.range.largest ? order.range.to : order.range.from;
    return "  " + order.words(first) + ": fails\n" + failing_words(order, found);
  }
  std::string page = "  " + order.words(*found.value) + ": passes\n";
  if (!found.beyond) {
    return page + "  it is the end of the range; what lies beyond was not tried\n";
  }
  page += "  " + order.words(*found.beyond) + ": fails\n" + failing_words(order, found);
  return page;
}

std::string stretch_words(const SizeOrder& order, const SizeFound& found, bool passing) {
  std::string text;
  for (const Stretch& stretch : found.stretches) {
    if (stretch.passes != passing) continue;
    if (!text.empty()) text += "; ";
    text += order.words(stretch.from);
    if (stretch.to != stretch.from) text += " to " + order.words(stretch.to);
  }
  return text.empty() ? "none" : text;
}

std::string scan_words(const SizeOrder& order, const Scan& scan) {
  return order.words(scan.from) + " to " + order.words(scan.to) + " by " +
         order.words(scan.step);
}

std::string scanned(const SizeOrder& order, const SizeFound& found) {
  std::string page = "scanned   ";
  for (std::size_t i = 0; i < found.scans.size(); ++i)
    page += (i > 0 ? ", then " : "") + scan_words(order, found.scans[i]);
  page += "\npasses    " + stretch_words(order, found, true) + "\nfails     " +
          stretch_words(order, found, false) + "\n";
  if (order.range.step > 1)
    page += "what begins and ends between two scanned values is not seen; --step looks closer\n";
  return page;
}

}  // namespace

std::string size_page(const Command& command, const SizeOrder& order, const SizeFound& found) {
  return headline(command, order, found) + both_sides(order, found) + scanned(order, found);
}

std::string size_json(const Command& command, const SizeOrder& order, const SizeFound& found) {
  // Sums of ticks carry noise; no value is told finer than this.
  const auto bare = [&](Tick value) { return std::round(order.bare(value) * 1e6) / 1e6; };
  const auto optional = [&](const std::optional<Tick>& value) {
    return value ? Json(bare(*value)) : Json();
  };
  Json json = {{"name", command.value},
               {"unit", bare_unit(order.now.dimension)},
               {"wanted", which(order)},
               {"now", now_bare(order)},
               {"value", optional(found.value)},
               {"fails_at", optional(found.beyond)},
               {"resolution", bare(1)}};
  Json failing = Json::array();
  for (const Finding& finding : found.failing)
    failing.push_back({{"code", finding.code}, {"text", message_text(finding, order.show)}});
  json["failing"] = std::move(failing);
  Json scans = Json::array();
  for (const Scan& scan : found.scans)
    scans.push_back({{"from", bare(scan.from)}, {"to", bare(scan.to)}, {"step", bare(scan.step)}});
  json["scans"] = std::move(scans);
  Json stretches = Json::array();
  for (const Stretch& stretch : found.stretches)
    stretches.push_back({{"from", bare(stretch.from)},
                         {"to", bare(stretch.to)},
                         {"passes", stretch.passes}});
  json["stretches"] = std::move(stretches);
  return json.dump(2) + "\n";
}

}  // namespace ribbay::detail
