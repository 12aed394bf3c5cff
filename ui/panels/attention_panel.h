#pragma once
#include <QWidget>
#include <map>
#include <set>

#include "ui/document/document.h"
#include "ui/jobs/background.h"

class QLabel;
class QScrollArea;
class QVBoxLayout;

namespace yw::ui {

class Card;

/// Needs attention: faults worst first, one line a kind with its count; each with its figure against the
/// limit, the rule with its source, and a remedy that says exactly what it will do. What is not wired yet and
/// what was left as is stand apart. Selecting works both ways.
class AttentionPanel : public QWidget {
  Q_OBJECT
 public:
  explicit AttentionPanel(Document& document, QWidget* parent = nullptr);
  ~AttentionPanel() override;
  /// Opens that finding (by findings::identity) with its rule and its remedy.
  void openFinding(const std::string& identity);
  const std::string& openedFinding() const { return opened_; }
  /// Waits until the opened finding's remedy is known.
  bool remedyKnown() const;

 private:
  struct Remedy {
    std::int64_t revision = -1;
    std::optional<propose::Proposal> proposal;
  };
  void rebuild();
  std::string signature() const;
  void addGroup(const findings::Group& group);
  void addFinding(const findings::Finding& finding, bool inGroup);
  void addDetails(const findings::Finding& finding, QVBoxLayout* column);
  void addRemedy(const findings::Finding& finding, QVBoxLayout* column);
  void addNotWired();
  void addLeft();
  void addHead(const QString& name, const QString& text, bool* open);
  void lookForRemedy();
  void applyRemedy();
  void leaveAsIs(const findings::Finding& finding);
  void takeUpAgain(const findings::Finding& finding);
  void select(const findings::Finding& finding);
  void markSelected();
  const findings::Finding* find(const std::string& identity) const;

  Document& document_;
  Background background_;
  QLabel* counts_;
  QLabel* busy_;
  QScrollArea* scroll_;
  QWidget* list_ = nullptr;
  QVBoxLayout* column_ = nullptr;
  std::string shown_;                  ///< signature of what is in the list
  std::string opened_;                 ///< identity
  std::set<std::string> openGroups_;   ///< rules
  std::map<std::string, int> seenOf_;  ///< how many findings of an open group are listed
  bool notWiredOpen_ = false, leftOpen_ = false;
  std::map<std::string, Remedy> remedies_;
  std::map<std::string, Card*> cards_;
  bool selecting_ = false;
};

}  // namespace yw::ui
