#include "size_input.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "spec/evaluator.hpp"
#include "spec/fields.hpp"
#include "spec/vocabulary.hpp"

#include <charconv>
#include <cmath>
#include <memory>

namespace ribbay::detail {

namespace {

constexpr const char* kTable = "size";
constexpr Tick kScanned = 60;          ///< values of the first scan when no step is asked for
constexpr double kMostScanned = 5000;  ///< values: each is a whole layout with all its checks
constexpr double kFine = 0.1;          ///< mm, deg, kg, ...: finer than anything is sawn or set
constexpr double kInch = 25.4;
constexpr double kFineInch = kInch / 64;  ///< what inches are printed to

Finding about_value(std::string code, const std::string& name) {
  Finding finding = input_error(std::move(code), {"--value", 0, 0, name});
  finding.subjects = {name};
  return finding;
}

Entry option_entry(const std::string& name, const std::string& text) {
  Node node;
  node.place = Place{"--" + name, 0, 0, text};
  node.value = text;
  double number = 0.0;
  const char* end = text.data() + text.size();
  const auto read = std::from_chars(text.data(), end, number);
  if (read.ec == std::errc() && read.ptr == end) node.value = number;
  return {name, node.place, std::move(node)};
}

/// --from, --to and --step in canonical units.
struct Limits {
  double from = 0.0;
  double to = 0.0;
  std::optional<double> step;
};

Result<Limits> read_limits(const Command& command, Dimension dimension) {
  Node::Table fields{option_entry("from", command.from), option_entry("to", command.to)};
  if (!command.step.empty()) fields.push_back(option_entry("step", command.step));
  Document document;
  document.root.value = Node::Table{{kTable, {}, Node{std::move(fields), {}, {}}}};
  Evaluator evaluator(document, {});
  evaluator.declare(
      kTable, std::make_shared<const Schema>(Schema{
                  kTable,
                  "The range.",
                  {quantity_field("from", dimension).needed().means("least value that is tried"),
                   quantity_field("to", dimension).needed().means("largest value that is tried"),
                   quantity_field("step", dimension).above(0).means("of the first scan")}}));
  const auto record = evaluator.record(kTable);
  if (!record) return fail(evaluator.take_findings());
  return Limits{record->number("from"), record->number("to"), record->number_if("step")};
}

LengthStyle style_of(const Document& project) {
  const Node* table = project.root.find("project");
  const Node* show = table == nullptr ? nullptr : table->find("show");
  const bool inches = show != nullptr && show->text() != nullptr && *show->text() == "in";
  return inches ? LengthStyle::inches : LengthStyle::millimetres;
}

bool is_whole(double value) { return std::abs(value - std::round(value)) < kSame; }

/// What a value of this dimension is told to.
double finest(Dimension dimension, LengthStyle show, const Limits& limits) {
  if (dimension == dimension::length) return show == LengthStyle::inches ? kFineInch : kFine;
  if (dimension == dimension::none) return is_whole(limits.from) && is_whole(limits.to) ? 1 : 0.001;
  return kFine;
}

/// A round number of ticks, at least `least`: 1, 2 or 5 times a power of ten.
Tick round_step(Tick least) {
  Tick step = 1;
  while (true) {
    for (const Tick factor : {1, 2, 5}) {
      if (step * factor >= least) return step * factor;
    }
    step *= 10;
  }
}

}  // namespace

double SizeOrder::bare(Tick value) const { return static_cast<double>(value) * tick; }

std::string SizeOrder::setting(Tick value) const {
  const std::string unit = bare_unit(now.dimension);
  const std::string number = number_text(std::round(bare(value) * 1e9) / 1e9);
  return unit.empty() ? number : number + " " + unit;
}

std::string SizeOrder::words(Tick value) const { return words(bare(value)); }

std::string SizeOrder::words(double bare_value) const {
  if (now.dimension == dimension::length) return value_text(bare_value, Unit::mm, show);
  const std::string unit = bare_unit(now.dimension);
  return rounded_text(bare_value, 3) + (unit.empty() ? "" : " " + unit);
}

Result<SizeOrder> read_size_order(const Command& command, const Inputs& inputs) {
  auto origin = explain_value(inputs, command.value);
  if (!origin.value) {
    for (Finding& finding : origin.findings) {
      if (!finding.place) finding.place = Place{"--value", 0, 0, command.value};
    }
    return fail(std::move(origin.findings));
  }
  if (!origin.value->value) return fail(about_value("size.not_a_number", command.value));
  if (origin.value->kind == Origin::Kind::answered)
    return fail(about_value("size.worked_out", command.value));

  SizeOrder order{.path = origin.value->path, .now = *origin.value->value, .range = {}};
  order.show = style_of(inputs.project);
  const Result<Limits> limits = read_limits(command, order.now.dimension);
  if (!limits) return fail(limits.error());
  const auto bare = [&](double canonical) {
    return as_bare_number(canonical, order.now.dimension);
  };
  order.tick = finest(order.now.dimension, order.show, *limits);
  // What lies within rounding of a tick is that tick.
  order.range.from = static_cast<Tick>(std::ceil(bare(limits->from) / order.tick - kSame));
  order.range.to = static_cast<Tick>(std::floor(bare(limits->to) / order.tick + kSame));
  if (order.range.from > order.range.to) {
    const bool turned = limits->from > limits->to;
    Finding finding =
        input_error(turned ? "size.range" : "size.none_between", {"--to", 0, 0, command.to});
    finding.subjects = {command.value};
    finding.with("from", command.from).with("to", command.to);
    if (!turned) finding.with("required", order.words(order.tick));
    return fail(std::move(finding));
  }
  const Tick span = order.range.to - order.range.from;
  order.range.step =
      limits->step
          ? std::max<Tick>(1, static_cast<Tick>(std::llround(bare(*limits->step) / order.tick)))
          : round_step(std::max<Tick>(1, (span + kScanned - 1) / kScanned));
  order.range.largest = command.largest;
  const double values = static_cast<double>(span) / static_cast<double>(order.range.step) + 1;
  if (values > kMostScanned) {
    Finding finding = input_error("size.too_many", {"--step", 0, 0, command.step});
    finding.subjects = {command.value};
    finding.with("measured", std::ceil(values), Unit::count)
        .with("required", kMostScanned, Unit::count);
    return fail(std::move(finding));
  }
  return order;
}

}  // namespace ribbay::detail
