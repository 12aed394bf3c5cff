#pragma once
#include <QWidget>

#include "ui/document/document.h"

class QLabel;
class QVBoxLayout;

namespace yw::ui {

class RecordForm;

/// This item / These 4 items: the form of what is selected, and what can be done to it, in words.
class ItemPanel : public QWidget {
  Q_OBJECT
 public:
  explicit ItemPanel(Document& document, QWidget* parent = nullptr);
  /// Puts the cursor into the first field.
  void edit();
  RecordForm* form() const { return form_; }

 Q_SIGNALS:
  void titleChanged(const QString& title);
  void duplicateAsked();
  void deleteAsked();
  void turnAsked();
  void pullRunAsked(yw::base::Id portOrRun);
  void feedAsked();
  void chartAsked();
  void wallAsked(yw::base::Id wall);

 private:
  void show();
  void showFacts();
  void rebuildActions();
  void addActions(const std::set<base::Id>& ids);
  void putFeedHere();
  void measureHere();
  void addAction(const QString& text, const char* name, std::function<void()> act);
  Document& document_;
  QLabel* empty_;
  QLabel* headline_;
  QLabel* facts_;
  RecordForm* form_;
  QWidget* actions_ = nullptr;
  QVBoxLayout* column_;
  std::string shownFor_;
};

}  // namespace yw::ui
