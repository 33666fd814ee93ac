module mallow

go 1.26.8
