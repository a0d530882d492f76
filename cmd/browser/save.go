package main

import "errors"

func (e *engine) save(request) (any, error)    { return nil, errors.New("not yet") }
func (e *engine) keys(request) (any, error)    { return nil, errors.New("not yet") }
func (e *engine) shipped(request) (any, error) { return nil, errors.New("not yet") }
