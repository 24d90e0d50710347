#include "tokens.hpp"

namespace ribbay::detail {

namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

constexpr std::string_view kDegree = "\xC2\xB0";
constexpr std::string_view kRaisedTwo = "\xC2\xB2";
constexpr std::string_view kRaisedThree = "\xC2\xB3";
constexpr std::string_view kPrime = "\xE2\x80\xB2";
constexpr std::string_view kDoublePrime = "\xE2\x80\xB3";

class Reader {
 public:
  explicit Reader(std::string_view text) : text_(text) {}

  Token next() {
    const std::size_t before = at_;
    while (at_ < text_.size() &&
           (peek() == ' ' || peek() == '\t' || peek() == '\n' || peek() == '\r')) {
      ++at_;
    }
    const std::size_t start = at_;
    Token token;
    token.spaced = start > before;
    if (start == text_.size()) {
      token.kind = Token::Kind::end;
    } else if (is_digit(peek()) || (peek() == '.' && is_digit(peek(1)))) {
      token.kind = Token::Kind::number;
      token.whole = number();
    } else if (is_letter(peek())) {
      token.kind = name() ? Token::Kind::name : Token::Kind::bad;
    } else if (starts_with(kDegree)) {
      token.kind = Token::Kind::name;
      degree();
    } else if (const std::size_t size = mark_size(); size > 0) {
      token.kind = Token::Kind::mark;
      at_ += size;
    } else {
      token.kind = symbol() ? Token::Kind::symbol : Token::Kind::bad;
    }
    token.text = text_.substr(start, at_ - start);
    token.at = {start, at_ - start};
    return token;
  }

 private:
  char peek(std::size_t ahead = 0) const {
    return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
  }
  bool starts_with(std::string_view part) const { return text_.substr(at_).starts_with(part); }

  std::size_t mark_size() const {
    if (peek() == '\'' || peek() == '"') return 1;
    return starts_with(kPrime) || starts_with(kDoublePrime) ? kPrime.size() : 0;
  }

  /// The degree sign is a unit, and so is it with the letter of a scale of temperature.
  void degree() {
    at_ += kDegree.size();
    const bool scale = peek() == 'C' || peek() == 'F';
    if (scale && !is_letter(peek(1)) && !is_digit(peek(1))) ++at_;
  }

  void digits() {
    while (is_digit(peek())) ++at_;
  }

  /// True for a whole number.
  bool number() {
    bool whole = true;
    digits();
    if (peek() == '.') {
      whole = false;
      ++at_;
      digits();
    }
    if (peek() == 'e' || peek() == 'E') {
      const std::size_t sign = peek(1) == '+' || peek(1) == '-' ? 1 : 0;
      if (is_digit(peek(1 + sign))) {
        whole = false;
        at_ += 1 + sign;
        digits();
      }
    }
    return whole;
  }

  /// False when a dot has no word behind it.
  bool name() {
    while (true) {
      while (is_letter(peek()) || is_digit(peek())) ++at_;
      if (starts_with(kRaisedTwo) || starts_with(kRaisedThree)) at_ += kRaisedTwo.size();
      if (peek() != '.') return true;
      ++at_;
      if (!is_letter(peek()) && !is_digit(peek())) return false;
    }
  }

  bool symbol() {
    const std::string_view rest = text_.substr(at_);
    for (const std::string_view two : {"<=", ">=", "==", "!="}) {
      if (rest.starts_with(two)) {
        at_ += 2;
        return true;
      }
    }
    constexpr std::string_view single = "+-*/(),<>%";
    if (single.find(peek()) != std::string_view::npos) {
      ++at_;
      return true;
    }
    // A whole character, so that messages do not cut one in half.
    ++at_;
    while ((static_cast<unsigned char>(peek()) & 0xC0U) == 0x80U) ++at_;
    return false;
  }

  std::string_view text_;
  std::size_t at_ = 0;
};

}  // namespace

bool is_keyword(const Token& token) {
  return token.is("and") || token.is("or") || token.is("not") || token.is("if");
}

std::vector<Token> tokens_of(std::string_view text) {
  std::vector<Token> tokens;
  Reader reader(text);
  do {
    tokens.push_back(reader.next());
  } while (tokens.back().kind != Token::Kind::end);
  return tokens;
}

}  // namespace ribbay::detail
