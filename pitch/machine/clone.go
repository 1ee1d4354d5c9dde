package machine

import "reflect"

// Clone returns a machine that can be changed without changing m.
func (m *Machine) Clone() *Machine {
	c := clone(*m)
	return &c
}

// Clone returns a mode that can be changed without changing m.
func (m Mode) Clone() Mode { return clone(m) }

// clone returns a copy of a value that shares no pointer, slice or map with it. Unexported
// fields are copied as they are: nothing here changes them.
func clone[T any](v T) T {
	own(reflect.ValueOf(&v).Elem())
	return v
}

// own makes what v holds its own.
func own(v reflect.Value) {
	if !v.CanSet() {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return
		}
		to := reflect.New(v.Type().Elem())
		to.Elem().Set(v.Elem())
		own(to.Elem())
		v.Set(to)
	case reflect.Slice:
		if v.IsNil() {
			return
		}
		to := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(to, v)
		for i := range to.Len() {
			own(to.Index(i))
		}
		v.Set(to)
	case reflect.Array:
		for i := range v.Len() {
			own(v.Index(i))
		}
	case reflect.Map:
		if v.IsNil() {
			return
		}
		to := reflect.MakeMapWithSize(v.Type(), v.Len())
		for _, key := range v.MapKeys() {
			value := reflect.New(v.Type().Elem()).Elem()
			value.Set(v.MapIndex(key))
			own(value)
			to.SetMapIndex(key, value)
		}
		v.Set(to)
	case reflect.Struct:
		for i := range v.NumField() {
			own(v.Field(i))
		}
	}
}
