package people

import (
	"encoding/json"
	"errors"

	"jointwalk/server/store"
)

// Names gives the names that people, devices and sites have today, by id. What has none, such as somebody whose name was
// erased, is left out or "".
func Names(rows store.Rows) (map[string]string, error) {
	names := map[string]string{}
	err := rows.View(func(r store.RowReader) error {
		read := func(id string, raw []byte) error {
			var row struct {
				Name string `json:"name"`
			}
			err := json.Unmarshal(raw, &row)
			names[id] = row.Name
			return err
		}
		return errors.Join(r.Each(tablePeople, read), r.Each(tableDevices, read), r.Each(tableSites, read))
	})
	return names, err
}
