#pragma once
#include <QFrame>

namespace yw::ui {

class ValueField;

/// A form's field laid over a cell. Enter and Tab commit and leave, Esc leaves with nothing changed, a click
/// elsewhere commits; what is refused stays open with the reason beneath.
class CellEditor : public QFrame {
  Q_OBJECT
 public:
  enum class Next { Here, After, Before };
  /// Takes the field; `over` is the table's viewport.
  CellEditor(ValueField* field, QWidget* over);
  /// Covers the cell, and what of the field does not fit there beneath it or above.
  void place(const QRect& cell);
  void begin();
  ValueField& field() { return *field_; }

 Q_SIGNALS:
  void left(yw::ui::CellEditor::Next next);

 protected:
  bool event(QEvent* event) override;
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  bool keyPressed(int key, bool control);
  bool commit();
  void leave(Next next);
  ValueField* field_;
  QWidget* input_ = nullptr;  ///< what has the keys
  QRect cell_;
  bool leaving_ = false;
};

}  // namespace yw::ui
