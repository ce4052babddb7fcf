// SPDX-License-Identifier: Apache-2.0
// One name, one type: two types of one name in one namespace are undefined behaviour even where no
// source sees both, for the linker keeps one of each template made from them. So are two inline
// variables.
#include <catch2/catch.hpp>
#include <cctype>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "source_files.h"

namespace lidwright {
namespace {

using namespace testing;

struct Token {
  std::string text;
  int line = 0;
};
using Tokens = std::vector<Token>;

bool OfWord(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

// Words and single characters; no comments, no directives, literals as "".
class Tokenizer {
 public:
  explicit Tokenizer(const std::string& text) : text_(text) {}

  Tokens All() {
    while (at_ < text_.size()) Next();
    return std::move(tokens_);
  }

 private:
  char Peek(std::size_t ahead) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : 0; }
  void Step() {
    if (text_[at_] == '\n') ++line_;
    ++at_;
  }
  void StepTo(std::size_t end) {
    while (at_ < std::min(end, text_.size())) Step();
  }
  void StepBeyond(const std::string& mark) {
    const std::size_t found = text_.find(mark, at_);
    StepTo(found == std::string::npos ? text_.size() : found + mark.size());
  }
  void Quoted(char mark) {
    Step();
    while (at_ < text_.size() && text_[at_] != mark) {
      if (text_[at_] == '\\') Step();
      if (at_ < text_.size()) Step();
    }
    StepTo(at_ + 1);
    tokens_.push_back({"\"\"", line_});
  }
  void Directive() {
    while (at_ < text_.size() && text_[at_] != '\n') {
      if (text_[at_] == '\\' || text_.compare(at_, 2, "/*") == 0) Step();
      Step();
    }
  }
  void Next() {
    const char c = text_[at_];
    if (text_.compare(at_, 2, "//") == 0) return StepBeyond("\n");
    if (text_.compare(at_, 2, "/*") == 0) return StepBeyond("*/");
    const bool first = tokens_.empty() || tokens_.back().line < line_;
    if (c == '#' && first) return Directive();
    if (c == '"' || c == '\'') return Quoted(c);
    if (OfWord(c)) {
      std::string word;
      const bool number = std::isdigit(static_cast<unsigned char>(c)) != 0;
      while (OfWord(Peek(0)) || (number && Peek(0) == '\'')) {
        word += text_[at_];
        Step();
      }
      if (word.back() == 'R' && Peek(0) == '"') {  // a raw string
        const std::size_t open = text_.find('(', at_);
        const std::string close = ")" + text_.substr(at_ + 1, open - at_ - 1) + "\"";
        StepBeyond(close);
        word = "\"\"";
      }
      tokens_.push_back({word, line_});
      return;
    }
    if (std::isspace(static_cast<unsigned char>(c)) == 0) tokens_.push_back({{c}, line_});
    Step();
  }

  const std::string& text_;
  std::size_t at_ = 0;
  int line_ = 1;
  Tokens tokens_;
};

// What stands before a brace or a semicolon, without template<…> and [[…]].
Tokens WithoutPrefixes(const Tokens& head) {
  std::size_t from = 0;
  while (from < head.size()) {
    const bool is_template = head[from].text == "template";
    if (!is_template && head[from].text != "[") break;
    const std::string open = is_template ? "<" : "[", close = is_template ? ">" : "]";
    int depth = 0;
    std::size_t i = from + (is_template ? 1 : 0);
    for (; i < head.size(); ++i) {
      if (head[i].text == open) ++depth;
      if (head[i].text == close && --depth == 0) break;
    }
    from = i + 1;
  }
  return Tokens(head.begin() + static_cast<std::ptrdiff_t>(std::min(from, head.size())),
                head.end());
}

// The qualified name that begins at `i`, which goes on behind it.
std::string NameAt(const Tokens& head, std::size_t& i) {
  std::string name;
  while (i < head.size() && (OfWord(head[i].text[0]) || head[i].text == ":")) {
    const bool colons = head[i].text == ":";
    if (colons && (i + 1 == head.size() || head[i + 1].text != ":")) break;
    if (!colons && !name.empty() && name.back() != ':') break;
    name += colons ? "::" : head[i].text;
    i += colons ? 2 : 1;
  }
  return name;
}

struct Scope {
  enum class Kind { kNamespace, kType, kOther } kind = Kind::kOther;
  std::string name;  // "" if it has none
};

Scope ScopeOf(const Tokens& head) {
  using Kind = Scope::Kind;
  const Tokens words = WithoutPrefixes(head);
  std::size_t i = 0;
  const auto is = [&](const char* word) { return i < words.size() && words[i].text == word; };
  if (is("inline")) ++i;
  if (is("namespace")) return {Kind::kNamespace, NameAt(words, ++i)};
  if (!is("struct") && !is("class") && !is("union") && !is("enum")) return {};
  ++i;
  if (is("struct") || is("class")) ++i;
  const std::string name = NameAt(words, i);
  if (i == words.size() || is("final") || is(":") || is("<")) return {Kind::kType, name};
  return {};
}

// The type that `using X = …;` or a typedef names; "" if it does not.
std::string AliasOf(const Tokens& head) {
  const Tokens words = WithoutPrefixes(head);
  if (words.size() > 3 && words[0].text == "using" && words[2].text == "=") return words[1].text;
  if (words.size() > 2 && words[0].text == "typedef") return words.back().text;
  return "";
}

// The variable that `inline constexpr …` defines, an initialiser behind it or not; "" if it does
// not.
std::string InlineVariableOf(const Tokens& head) {
  const Tokens words = WithoutPrefixes(head);
  if (words.size() < 3 || words[0].text != "inline" || words[1].text != "constexpr") return "";
  std::size_t end = 0;
  while (end < words.size() && words[end].text != "=" && words[end].text != "(") ++end;
  if (end < words.size() && words[end].text == "(") return "";  // a function
  return words[end - 1].text;
}

struct Place {
  std::string path;
  int line = 0;
};
using Definitions = std::map<std::string, std::vector<Place>>;

// Every type and inline variable that the file defines and that has a name beyond it: not in an
// anonymous namespace, not within a function.
void AddNames(const SourceFile& file, Definitions& all) {
  std::vector<Scope> scopes;
  Tokens head;
  const auto outside = [&](std::string name) {
    for (std::size_t i = scopes.size(); i-- > 0;) {
      if (scopes[i].kind == Scope::Kind::kOther || scopes[i].name.empty()) return std::string();
      name = scopes[i].name + "::" + name;
    }
    return name;
  };
  const auto add = [&](const std::string& name, int line) {
    const std::string whole = name.empty() ? "" : outside(name);
    if (!whole.empty()) all[whole].push_back({file.path, line});
  };
  const Tokens tokens = Tokenizer(file.text).All();
  for (std::size_t i = 0; i < tokens.size(); ++i) {
    const Token& token = tokens[i];
    if (token.text == "{") {
      const Scope scope = ScopeOf(head);
      if (scope.kind == Scope::Kind::kType) add(scope.name, token.line);
      add(InlineVariableOf(head), token.line);
      scopes.push_back(scope);
    }
    if (token.text == ";") {
      add(AliasOf(head), token.line);
      add(InlineVariableOf(head), token.line);
    }
    if (token.text == "}" && !scopes.empty()) scopes.pop_back();
    const bool access =
        token.text == ":" && head.size() == 1 &&
        (head[0].text == "public" || head[0].text == "private" || head[0].text == "protected");
    if (access || token.text == "{" || token.text == "}" || token.text == ";") {
      head.clear();
    } else {
      head.push_back(token);
    }
  }
}

std::vector<std::string> DoubleNames(const std::vector<SourceFile>& files) {
  Definitions all;
  for (const SourceFile& file : files) AddNames(file, all);
  std::vector<std::string> found;
  for (const auto& [name, places] : all) {
    for (std::size_t i = 1; i < places.size(); ++i) {
      if (places[i].path == places[0].path) continue;
      found.push_back(name + ": " + places[0].path + ":" + std::to_string(places[0].line) +
                      " and " + places[i].path + ":" + std::to_string(places[i].line));
    }
  }
  return found;
}

}  // namespace

TEST_CASE("no two files define a type or an inline variable of one name") {
  std::vector<SourceFile> files;
  for (const std::string folder : {"include", "src", "tests", "examples"}) {
    for (SourceFile& file : SourceFilesBelow(folder)) files.push_back(std::move(file));
  }
  for (const std::string& name : DoubleNames(files)) FAIL_CHECK(name);
  Definitions all;
  for (const SourceFile& file : files) AddNames(file, all);
  CHECK(all.size() > 300);
  for (const char* known : {"lidwright::Job", "lidwright::LidMotion", "lidwright::Body",
                            "lidwright::MeasuredForm::LidSides", "lidwright::testing::BoxTruth",
                            "lidwright::kChordError_mm"}) {
    INFO(known);
    CHECK(all.count(known) == 1);
  }
}

TEST_CASE("types of one name are seen wherever they hide, and hidden ones are not") {
  const auto doubles = [](const std::string& a, const std::string& b) {
    return DoubleNames({{"src/a.cpp", a}, {"src/b.h", b}}).size();
  };
  const std::string loop = "namespace box {\nstruct Loop {\n  int a;\n};\n}\n";
  CHECK(DoubleNames({{"src/a.cpp", loop}, {"src/b.h", "\n" + loop}}) ==
        std::vector<std::string>{"box::Loop: src/a.cpp:2 and src/b.h:3"});
  for (const char* same : {
           "namespace box { class Loop final : public Base<int> { public: int f() { return 1; } }; "
           "}",
           "namespace box {\n// struct\nenum class Loop : int { kA };\n}",
           "namespace box { template <typename T, typename U = V<T>> struct Loop { T t; }; }",
           "namespace box { template <> struct Loop<int> { }; }",
           "namespace box { int f(int a) { return a; } union [[nodiscard]] Other { }; union Loop { "
           "}; }",
           "namespace box { using Loop = std::vector<int>; }",
           "namespace box { typedef int Loop; }",
           "inline namespace box { struct Loop { }; }",
           "#define A {\nnamespace box { struct Loop { }; }",
           "const char* s = R\"x({ \" )x\"; char c = '{'; int n = 1'000; namespace box { struct "
           "Loop { }; }",
           "namespace box { const int x[] = {1, 2}; auto f = [](int a) { return a; }; struct Loop "
           "{ }; }",
       }) {
    INFO(same);
    CHECK(doubles(loop, same) == 1);
  }
  for (const char* other : {
           "namespace box { struct Loop; class Loop; enum class Loop : int; }",
           "namespace box { namespace { struct Loop { }; } }",
           "namespace { namespace box { struct Loop { }; } }",
           "namespace box::inner { struct Loop { }; }",
           "namespace box { struct Other { struct Loop { }; }; }",
           "namespace box { void f() { struct Loop { }; using Loop = int; } }",
           "namespace box { /* struct Loop { }; */ }",
           "namespace box { const char* s = \"struct Loop { };\"; }",
           "namespace box { struct Loop f() { return {}; } }",
           "namespace box { struct Loop loop = {1}; }",
           "#define LOOP namespace box { \\\n struct Loop { }; }\n",
       }) {
    INFO(other);
    CHECK(doubles(loop, other) == 0);
  }
  const std::string value = "namespace box { inline constexpr double kSize_mm = 0.1; }";
  for (const char* same : {"namespace box { inline constexpr double kSize_mm{0.2}; }",
                           "namespace box { inline constexpr std::array<int, 2> kSize_mm{1, 2}; }",
                           "namespace box { inline constexpr Size kSize_mm = {1, 2}; }"}) {
    INFO(same);
    CHECK(doubles(value, same) == 1);
  }
  for (const char* other :
       {"namespace box { constexpr double kSize_mm = 0.2; }",
        "namespace box { namespace { inline constexpr double kSize_mm = 2; } }",
        "namespace box { inline constexpr int Size(int kSize_mm) { return 1; } }",
        "namespace box { double a = kSize_mm; }"}) {
    INFO(other);
    CHECK(doubles(value, other) == 0);
  }
  const std::string nested = "namespace box { struct Form::Sides { }; }";
  CHECK(doubles(nested, "namespace box { class Form { struct Sides { }; }; }") == 1);
}

TEST_CASE("no test's name holds what keeps the test runner from finding it") {
  // CMake cuts a name at each semicolon: the runner then asks for a test that is not there, finds
  // none and calls that passed.
  int tests = 0;
  for (const testing::SourceFile& file : testing::SourceFilesBelow("tests")) {
    const std::string mark = "TEST_CASE(\"";
    for (std::size_t at = file.text.find(mark); at != std::string::npos;
         at = file.text.find(mark, at)) {
      at += mark.size();
      const std::string name = file.text.substr(at, file.text.find('"', at) - at);
      INFO(file.path << ": " << name);
      CHECK(name.find(';') == std::string::npos);
      ++tests;
    }
  }
  CHECK(tests > 700);
}

}  // namespace lidwright
