// Reads shop/bars-proof.json and says of each plan whether its bound holds, and whether the plan is
// proven minimal. Shares no code with the planner: tables over all lengths, in whole numbers.
//
//     check_bars_proof FILE        exit code 0: every bound holds, and every plan told as proven is

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <fstream>
#include <numeric>
#include <string>
#include <vector>

namespace {

using Number = std::int64_t;
using Json = nlohmann::json;

struct Piece {
  Number size = 0, count = 0;
};

struct Stock {
  Number capacity = 0, cost = 0, count = 0;
};

/// A worth of each piece: what one bar of each stock holds at most, and what all pieces are worth.
struct Argument {
  std::vector<Number> most;
  Number wanted = 0;
};

/// The most worth in a bar, by a table over all lengths.
Number most_in(Number capacity, const std::vector<Piece>& pieces, const std::vector<Number>& worth) {
  Number unit = 0;
  for (const Piece& piece : pieces) unit = std::gcd(unit, piece.size);
  const auto cells = static_cast<std::size_t>(std::max<Number>(0, capacity) / std::max<Number>(1, unit));
  std::vector<Number> best(cells + 1, 0);
  for (std::size_t p = 0; p < pieces.size(); ++p) {
    const auto size = static_cast<std::size_t>(pieces[p].size / unit);
    for (Number copy = 0; copy < pieces[p].count && static_cast<std::size_t>(copy) * size <= cells; ++copy) {
      for (std::size_t at = cells; at >= size; --at)
        best[at] = std::max(best[at], best[at - size] + worth[p]);
    }
  }
  return best[cells];
}

/// Looks for a choice of bars that costs less than the bound and that no argument refutes.
class Search {
 public:
  Search(std::vector<Stock> stock, std::vector<Argument> arguments)
      : stock_(std::move(stock)), arguments_(std::move(arguments)) {}

  bool finds_one(Number bound) const {
    return bound > 0 && walk(0, bound - 1, std::vector<Number>(arguments_.size(), 0));
  }

 private:
  /// True when, whatever is bought from stock `from` on, parts of bars allowed, one argument refutes it.
  bool refuted(std::size_t from, Number money, const std::vector<Number>& held) const {
    for (std::size_t a = 0; a < arguments_.size(); ++a) {
      long double most = static_cast<long double>(held[a]);
      long double for_money = 0.0L;
      for (std::size_t s = from; s < stock_.size(); ++s) {
        const auto worth = static_cast<long double>(arguments_[a].most[s]);
        if (stock_[s].cost == 0) most += worth * static_cast<long double>(stock_[s].count);
        if (stock_[s].cost > 0)
          for_money = std::max(for_money, worth / static_cast<long double>(stock_[s].cost));
      }
      most += for_money * static_cast<long double>(money);
      if (most * (1 + 1e-15L) < static_cast<long double>(arguments_[a].wanted)) return true;
    }
    return false;
  }

  bool walk(std::size_t s, Number money, const std::vector<Number>& held) const {
    if (refuted(s, money, held)) return false;
    if (s == stock_.size()) return true;
    const Number cost = stock_[s].cost;
    // Bars for nothing are all taken: more never hinder.
    const Number least = cost == 0 ? stock_[s].count : 0;
    for (Number count = least; count <= stock_[s].count && count * cost <= money; ++count) {
      std::vector<Number> next = held;
      for (std::size_t a = 0; a < next.size(); ++a) next[a] += count * arguments_[a].most[s];
      if (walk(s + 1, money - count * cost, next)) return true;
    }
    return false;
  }

  std::vector<Stock> stock_;
  std::vector<Argument> arguments_;
};

/// What is wrong with one plan's proof, or an empty text.
std::string fault(const Json& plan) {
  const Json& proof = plan.at("proof");
  std::vector<Piece> pieces;
  Number all = 0;
  for (const Json& piece : proof.at("pieces")) {
    pieces.push_back({piece.at("size"), piece.at("count")});
    all += pieces.back().count;
    if (pieces.back().size <= 0 || pieces.back().count <= 0) return "a piece without size or count";
  }
  std::vector<Stock> stock;
  for (const Json& each : proof.at("stock")) {
    const Json& count = each.at("count");
    stock.push_back({each.at("capacity"), each.at("cost"), count.is_null() ? all : count.get<Number>()});
  }
  std::vector<Argument> arguments;
  for (const std::vector<Number>& worth : proof.at("worths").get<std::vector<std::vector<Number>>>()) {
    if (worth.size() != pieces.size()) return "an argument about other pieces";
    if (std::ranges::any_of(worth, [](Number w) { return w < 0; })) return "a worth below nothing";
    Argument argument;
    for (std::size_t p = 0; p < pieces.size(); ++p) argument.wanted += worth[p] * pieces[p].count;
    for (const Stock& each : stock) argument.most.push_back(most_in(each.capacity, pieces, worth));
    arguments.push_back(std::move(argument));
  }
  const Number bound = proof.at("cost_bound");
  if (plan.at("proven").get<bool>()) {
    Number paid = 0;
    Number bars = 0;
    for (std::size_t s = 0; s < stock.size(); ++s) {
      const Number taken = plan.at("taken").at(s);
      if (taken > stock[s].count) return "more bars than there are";
      paid += taken * stock[s].cost;
      bars += taken;
    }
    if (bars != plan.at("bars").get<Number>()) return "another number of bars";
    if (paid != bound) return "it costs more than the bound";
  }
  if (Search(stock, arguments).finds_one(bound)) return "a cheaper choice of bars is not refuted";
  return "";
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 2) {
    std::fprintf(stderr, "usage: check_bars_proof FILE\n");
    return 2;
  }
  bool good = true;
  try {
    std::ifstream in(arguments[1]);
    const Json file = Json::parse(in);
    for (const Json& plan : file.at("plans")) {
      const std::string wrong = fault(plan);
      const std::string name = plan.at("stock");
      good = good && wrong.empty();
      if (!wrong.empty()) {
        std::printf("%s: refused: %s\n", name.c_str(), wrong.c_str());
      } else if (plan.at("proven").get<bool>()) {
        std::printf("%s: %lld bars, proven minimal\n", name.c_str(),
                    static_cast<long long>(plan.at("bars").get<Number>()));
      } else {
        std::printf("%s: the bound holds\n", name.c_str());
      }
    }
  } catch (const std::exception& error) {
    std::printf("refused: %s\n", error.what());
    good = false;
  }
  return good ? 0 : 1;
}
