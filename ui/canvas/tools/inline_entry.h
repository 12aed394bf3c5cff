#pragma once
#include <QFrame>
#include <QString>
#include <optional>
#include <utility>

#include "core/base/exact.h"
#include "core/base/message.h"
#include "core/base/number_text.h"

class QLabel;
class QLineEdit;

namespace yw::ui {

/// A length typed over the drawing: the whole text is read or refused, and what was read stands beneath. It
/// does not block anything; Enter takes it, Escape puts it away.
class InlineEntry : public QFrame {
  Q_OBJECT
 public:
  explicit InlineEntry(QWidget* viewport);

  /// Shows it near a place of the viewport; `question` stands above the field.
  void ask(const QString& question, QPoint near, base::UnitSystem units, const QString& begun = {});
  void moveNear(QPoint near);
  bool asking() const { return isVisibleTo(parentWidget()); }
  /// What is typed now, if it reads as a length above zero.
  std::optional<base::Length> length() const;
  /// `30' x 20'`: what is typed now, if it reads as two lengths above zero and two were asked for.
  std::optional<std::pair<base::Length, base::Length>> sides() const;
  void setTwo(bool two) { two_ = two; }  ///< whether a width by a depth may be typed
  QLineEdit* edit() const { return edit_; }
  QString reading() const;
  void put();  ///< away, and the focus back to the drawing

 Q_SIGNALS:
  void changed();
  void entered(yw::base::Length length);
  void enteredSides(yw::base::Length width, yw::base::Length depth);
  void cancelled();

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void read();
  QLabel* question_;
  QLineEdit* edit_;
  QLabel* reading_;
  base::LengthUnit bareUnit() const;
  bool two_ = false;
  base::UnitSystem units_ = base::UnitSystem::FeetInches;
};

}  // namespace yw::ui
