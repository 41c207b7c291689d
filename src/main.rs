fn main(){println!("hi");}
