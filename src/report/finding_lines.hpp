// Paragraphs in reading order, kept to a page.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace rimload {

/// Collects paragraphs and breaks them into lines; what matters least goes when the page is full.
class FindingLines {
 public:
  static constexpr std::size_t max_lines = 25;
  static constexpr std::size_t max_columns = 100;  ///< bytes; the words are ASCII
  static constexpr int always = 0;                 ///< priority of what is never left out

  /// @param priority the larger, the sooner a paragraph is left out; of equals the later one
  void add(int priority, const std::string& paragraph);
  /// At most `max_lines` as long as the paragraphs of priority `always` leave room; says so when
  /// something was left out.
  [[nodiscard]] std::string text() const;

 private:
  struct Paragraph {
    int priority;
    std::vector<std::string> lines;
  };
  std::vector<Paragraph> paragraphs_;
};

}  // namespace rimload
