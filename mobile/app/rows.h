#pragma once

#include <QAbstractListModel>
#include <QVariant>
#include <functional>
#include <utility>
#include <vector>

namespace swardwalk::mobile {

/// A list of plain rows for QML: each column is a role with a name. Rows are set as a
/// whole; where their number stays, views keep their delegates. Use from the GUI thread.
template <class Row>
class Rows : public QAbstractListModel {
 public:
  struct Column {
    QByteArray name;
    std::function<QVariant(const Row&)> value;
  };

  explicit Rows(std::vector<Column> columns, QObject* parent = nullptr)
      : QAbstractListModel(parent), columns_(std::move(columns)) {}

  int rowCount(const QModelIndex& parent = {}) const override {
    return parent.isValid() ? 0 : static_cast<int>(rows_.size());
  }

  QVariant data(const QModelIndex& index, int role) const override {
    const int column = role - Qt::UserRole;
    if (!index.isValid() || column < 0 || column >= static_cast<int>(columns_.size())) return {};
    return columns_[static_cast<std::size_t>(column)].value(
        rows_[static_cast<std::size_t>(index.row())]);
  }

  QHash<int, QByteArray> roleNames() const override {
    QHash<int, QByteArray> names;
    int role = Qt::UserRole;
    for (const Column& column : columns_) names.insert(role++, column.name);
    return names;
  }

  const std::vector<Row>& rows() const { return rows_; }

  void set(std::vector<Row> rows) {
    if (rows.size() == rows_.size() && !rows.empty()) {
      rows_ = std::move(rows);
      Q_EMIT dataChanged(index(0), index(rowCount() - 1));
      return;
    }
    beginResetModel();
    rows_ = std::move(rows);
    endResetModel();
  }

 private:
  std::vector<Column> columns_;
  std::vector<Row> rows_;
};

}  // namespace swardwalk::mobile
